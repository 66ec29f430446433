"""So many more or less: used, taken, lost, put back, thrown away."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.shelf import (
    bag_short,
    came_in,
    let_through,
    put_back,
    take_from_tray,
    throw_away,
    use_consumable,
)
from fabshop.actions.shelf.locked import left_of
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shelf import Consumable, Tray
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import ComponentFactory, TaskFactory

pytestmark = pytest.mark.django_db


def test_what_is_used_moves_and_is_told_of_its_task(
    resin: Consumable, helper: Person, now: datetime
) -> None:
    task = TaskFactory()
    use_consumable(
        by=helper, consumable=resin, quantity_milli=95_000, task=task, now=now
    )
    assert left_of(resin) == 315_000
    entry = LogEntry.objects.get()
    assert (entry.task, entry.text) == (task, "Used 95 g of C01 Slow epoxy")


def test_the_same_tap_twice_uses_it_once(
    resin: Consumable, helper: Person, now: datetime
) -> None:
    for _ in range(2):
        use_consumable(
            by=helper,
            consumable=resin,
            quantity_milli=95_000,
            now=now,
            client_id="tap",
        )
    assert left_of(resin) == 315_000


def test_two_phones_that_take_the_last_nuts_are_both_kept(
    nuts: Tray, owner: Person, helper: Person, now: datetime
) -> None:
    """Row 46: the count goes below nothing; nothing is refused or clipped."""
    take_from_tray(by=owner, tray=nuts, quantity_milli=12_000, now=now)
    take_from_tray(by=helper, tray=nuts, quantity_milli=2_000, now=now)
    assert left_of(nuts) == -2_000


@pytest.mark.parametrize("milli", [0, -1_000, 1_500, 3_000_000_000])
def test_nothing_less_half_and_too_many_are_refused(
    nuts: Tray, helper: Person, now: datetime, milli: int
) -> None:
    """Row 25: a fraction only of what is weighed or measured."""
    with pytest.raises(BadInput, match="Quantity: "):
        take_from_tray(by=helper, tray=nuts, quantity_milli=milli, now=now)


def test_a_fraction_of_what_is_weighed_is_kept(
    resin: Consumable, helper: Person, now: datetime
) -> None:
    """Row 25."""
    use_consumable(by=helper, consumable=resin, quantity_milli=500, now=now)
    assert left_of(resin) == 409_500


def test_a_screw_missing_from_a_bag_comes_from_the_tray(
    nuts: Tray, helper: Person, now: datetime
) -> None:
    part = ComponentFactory()
    move = bag_short(by=helper, tray=nuts, component=part, now=now)
    assert (move.component, left_of(nuts)) == (part, 11_000)
    assert "missing from the bag of" in LogEntry.objects.get().text


def test_what_comes_and_goes_back_counts_up_and_what_is_thrown_away_down(
    resin: Consumable, helper: Person, now: datetime
) -> None:
    came_in(by=helper, thing=resin, quantity_milli=100_000, now=now)
    put_back(by=helper, thing=resin, quantity_milli=5_000, now=now)
    throw_away(
        by=helper, thing=resin, quantity_milli=15_000, why="lumps in it", now=now
    )
    assert left_of(resin) == 500_000
    with pytest.raises(BadInput, match="Why: nothing is written"):
        throw_away(by=helper, thing=resin, quantity_milli=1_000, why="", now=now)


def test_what_has_gone_off_is_held_until_the_owner_overrules_it(
    stale: Consumable, potting: Task, owner: Person, helper: Person, now: datetime
) -> None:
    """Row 44: hold at use, override with a reason."""
    use = {"by": helper, "consumable": stale, "quantity_milli": 9_000, "now": now}
    with pytest.raises(Clash, match="C05 Potting resin, gone off Tue 31 Aug") as held:
        use_consumable(task=potting, **use)
    assert held.value.code == "gone-off"
    with pytest.raises(Clash, match="say for which task"):
        use_consumable(**use)
    let_through(
        by=owner, consumable=stale, task=potting, reason="test set hard", now=now
    )
    assert use_consumable(task=potting, **use).is_gone_off
    assert left_of(stale) == 31_000
    with pytest.raises(Clash, match="Held"):
        use_consumable(task=TaskFactory(), **use)


def test_a_viewer_uses_nothing(
    resin: Consumable, viewer: Person, now: datetime
) -> None:
    with pytest.raises(NotAllowed):
        use_consumable(by=viewer, consumable=resin, quantity_milli=1_000, now=now)
