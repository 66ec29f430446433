"""Readings are judged by the tables and kept; a person decides what becomes of them."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from fabshop import words
from fabshop.actions.drawing import decide_check, limits_of, measure_check
from fabshop.actions.drawing.check import said_of_check
from fabshop.actions.order import Count, balance, receive_parcel
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.drawing import CheckDecision, MeasuredCheck
from fabshop.records.order import Order, OrderLine
from fabshop.records.shop import Person

pytestmark = pytest.mark.django_db


@pytest.fixture
def check(line: OrderLine, owner: Person, now: datetime) -> MeasuredCheck:
    return measured(line, owner, now)


def measured(line: OrderLine, by: Person, now: datetime, **more: Any) -> MeasuredCheck:
    told = {"label": "width", "nominal_um": 40_000, "reading_um": 40_400, **more}
    return measure_check(by=by, line=line, now=now, **told)


def test_a_reading_outside_iso_2768_m_is_too_big_by_so_much(
    check: MeasuredCheck,
) -> None:
    assert (check.lower_um, check.upper_um, check.verdict) == (-300, 300, "too-big")
    assert said_of_check(check) == (
        "width 40.4 mm, drawn 40 ±0.3 mm: too big by 0.1 mm"
    )
    assert "ISO 2768-1" in check.source


def test_iso_9013_goes_by_the_thickness_of_the_line(
    line: OrderLine, owner: Person, now: datetime
) -> None:
    with pytest.raises(BadInput, match="goes by thickness") as caught:
        measured(line, owner, now, tolerance="iso-9013-1")
    assert caught.value.field == "thickness"
    line.thickness_um = 1500
    check = measured(line, owner, now, tolerance="iso-9013-1")
    assert check.upper_um == 250


def test_limits_of_my_own_and_what_no_table_holds() -> None:
    own = words.Tolerance.LIMITS
    assert limits_of(own, 40_000, None, -50, 100)[:2] == (-50, 100)
    with pytest.raises(BadInput, match="how far below and above"):
        limits_of(own, 40_000)
    with pytest.raises(BadInput, match="lies above the upper"):
        limits_of(own, 40_000, None, 100, -100)
    with pytest.raises(BadInput, match="says nothing for 0.3 mm"):
        limits_of(words.Tolerance.MEDIUM, 300)


def test_living_with_it_wants_a_reason_and_the_first_word_stays(
    check: MeasuredCheck, helper: Person, now: datetime
) -> None:
    with pytest.raises(BadInput, match="say why"):
        decide_check(by=helper, check=check, how="live-with-it", now=now)
    decide_check(by=helper, check=check, how="accepted", now=now)
    decide_check(by=helper, check=check, how="live-with-it", reason="slotted", now=now)
    assert [d.how for d in CheckDecision.objects.order_by("pk")] == [
        "accepted",
        "live-with-it",
    ]
    check.refresh_from_db()
    assert check.verdict == "too-big"


def test_to_the_penalty_shelf_an_accepted_piece_is_owed_again(
    order: Order, line: OrderLine, owner: Person, now: datetime
) -> None:
    receive_parcel(by=owner, order=order, counts=[Count(line, 1000)], now=now)
    check = measured(line, owner, now)
    decide_check(by=owner, check=check, how="penalty-shelf", now=now)
    stands = balance(OrderLine.objects.get(pk=line.pk))
    assert (stands.accepted_milli, stands.wrong_milli) == (0, 1000)
    assert stands.owed_milli == 1000
    with pytest.raises(Clash, match="already"):
        decide_check(by=owner, check=check, how="penalty-shelf", now=now)


def test_before_it_is_booked_in_nothing_is_moved(
    check: MeasuredCheck, owner: Person, now: datetime
) -> None:
    decide_check(by=owner, check=check, how="penalty-shelf", now=now)
    assert balance(check.line).wrong_milli == 0


def test_a_tap_twice_is_one_reading_and_a_viewer_measures_nothing(
    line: OrderLine, owner: Person, viewer: Person, now: datetime
) -> None:
    first = measured(line, owner, now, client_id="m1")
    assert measured(line, owner, now, client_id="m1") == first
    with pytest.raises(NotAllowed):
        measured(line, viewer, now)
    with pytest.raises(BadInput, match="is no tolerance"):
        measured(line, owner, now, tolerance="good enough")
    with pytest.raises(BadInput, match="Accepted, penalty shelf"):
        decide_check(by=owner, check=first, how="shrug", now=now)
