"""Count-up: the figure seen becomes a difference with its reason, never "set to"."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.shelf import count_up, take_from_tray
from fabshop.actions.shelf.locked import left_of
from fabshop.errors import BadInput
from fabshop.records.log import LogEntry
from fabshop.records.shelf import Tray
from fabshop.records.shop import Person

pytestmark = pytest.mark.django_db


def test_the_difference_moves_with_its_reason(
    nuts: Tray, helper: Person, now: datetime
) -> None:
    with pytest.raises(BadInput, match="the record says 12, you saw 9. What happened"):
        count_up(by=helper, thing=nuts, seen_milli=9_000, now=now)
    move = count_up(
        by=helper, thing=nuts, seen_milli=9_000, reason="taken, not written", now=now
    )
    assert (move.change_milli, left_of(nuts)) == (-3_000, 9_000)
    assert LogEntry.objects.get().text == (
        "F04 M4 nylon nut: seen 9, the record said 12. taken, not written"
    )


def test_as_the_record_says_it_needs_no_reason_and_is_kept_as_seen(
    nuts: Tray, helper: Person, now: datetime
) -> None:
    move = count_up(by=helper, thing=nuts, seen_milli=12_000, now=now)
    assert (move.change_milli, move.seen_milli) == (0, 12_000)


def test_a_count_wrong_by_two_is_put_right_by_looking(
    nuts: Tray, helper: Person, now: datetime
) -> None:
    """Row 46: below nothing, look, and the record follows."""
    take_from_tray(by=helper, tray=nuts, quantity_milli=14_000, now=now)
    assert left_of(nuts) == -2_000
    count_up(by=helper, thing=nuts, seen_milli=0, reason="counted twice", now=now)
    assert left_of(nuts) == 0


@pytest.mark.parametrize("seen", [-1_000, 1_500])
def test_less_than_nothing_and_half_a_nut_are_not_seen(
    nuts: Tray, helper: Person, now: datetime, seen: int
) -> None:
    with pytest.raises(BadInput):
        count_up(by=helper, thing=nuts, seen_milli=seen, reason="x", now=now)
