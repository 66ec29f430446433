"""Consumables put on the shelf, opened and described, and what is refused."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

import pytest

from fabshop.actions.shelf import (
    add_consumable,
    change_consumable,
    open_consumable,
    retire_consumable,
)
from fabshop.actions.shelf.locked import left_of
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shelf import Consumable
from fabshop.records.shop import Person
from tests.factories import PieceFactory, TrayFactory

pytestmark = pytest.mark.django_db


def put(by: Person, now: datetime, **said: Any) -> Consumable:
    told = {"code": "C01", "name": "Slow epoxy", "unit": "g", **said}
    return add_consumable(by=by, now=now, **told)


def test_it_is_put_there_with_what_there_is(helper: Person, now: datetime) -> None:
    thing = put(helper, now, quantity_milli=410_000, opened_on=date(2027, 7, 2))
    assert (left_of(thing), thing.is_opened) == (410_000, True)
    assert LogEntry.objects.get().text == "On the shelf: C01 Slow epoxy, 410 g"


def test_the_same_tap_twice_puts_it_there_once(helper: Person, now: datetime) -> None:
    first = put(helper, now, quantity_milli=5_000, client_id="tap")
    assert put(helper, now, quantity_milli=5_000, client_id="tap") == first
    assert left_of(first) == 5_000


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"unit": "hug"}, "Unit: “hug” is none of pc, g, ml"),
        ({"name": " "}, "Name: nothing is written"),
        ({"hazard": "lava"}, "Caution: “lava” is unknown"),
        ({"opened_on": date(2027, 9, 4)}, "Opened on: Sat 4 Sep has not come yet"),
        ({"opened_life_days": -1}, "Days it keeps opened: -1 is less than nothing"),
        ({"quantity_milli": -1}, "Quantity: -1 is less than nothing"),
        ({"unit": "pc", "quantity_milli": 500}, "counted in whole pieces"),
        (
            {"is_lasting": True, "use_by_on": date(2027, 9, 4)},
            "Use by: it is said not to go off",
        ),
        ({"code": "C 01"}, "Code: “C 01” will not do"),
    ],
)
def test_what_cannot_be_is_refused_by_name(
    helper: Person, now: datetime, said: dict[str, Any], sentence: str
) -> None:
    with pytest.raises(BadInput, match=sentence):
        put(helper, now, **said)
    assert not Consumable.objects.exists()


def test_a_code_is_one_thing_in_the_whole_shop(helper: Person, now: datetime) -> None:
    TrayFactory(code="F01")
    PieceFactory(code="M01")
    put(helper, now)
    for code in ("C01", "F01", "M01"):
        with pytest.raises(Clash, match=f"{code} already; codes are not used again"):
            put(helper, now, code=code)


def test_a_viewer_puts_nothing_there(viewer: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        put(viewer, now)


def test_opening_it_starts_its_opened_life_once(
    resin: Consumable, helper: Person, now: datetime
) -> None:
    opened = open_consumable(by=helper, consumable=resin, now=now)
    assert opened.opened_on == date(2027, 9, 3)
    with pytest.raises(Clash, match="was opened Fri 3 Sep already"):
        open_consumable(by=helper, consumable=resin, now=now)


def test_a_day_to_come_is_no_day_it_was_opened(
    resin: Consumable, helper: Person, now: datetime
) -> None:
    with pytest.raises(BadInput, match="has not come yet"):
        open_consumable(by=helper, consumable=resin, now=now, on=date(2027, 9, 9))


def test_it_may_be_opened_on_a_day_that_nobody_knows(
    resin: Consumable, owner: Person, now: datetime
) -> None:
    """Row 45."""
    change_consumable(
        by=owner, consumable=resin, now=now, is_opened=True, opened_on=None
    )
    resin.refresh_from_db()
    assert (resin.is_opened, resin.opened_on) == (True, None)


def test_a_helper_says_where_it_lies_and_the_owner_its_days(
    resin: Consumable, owner: Person, helper: Person, now: datetime
) -> None:
    change_consumable(by=helper, consumable=resin, now=now, place="cold shelf")
    with pytest.raises(NotAllowed):
        change_consumable(
            by=helper, consumable=resin, now=now, use_by_on=date(2028, 1, 1)
        )
    changed = change_consumable(
        by=owner, consumable=resin, now=now, use_by_on=date(2028, 1, 1), version=2
    )
    assert changed.use_by_on == date(2028, 1, 1)
    assert LogEntry.objects.first().text == "C01: Use by Sat 1 Jan"  # type: ignore[union-attr]


def test_who_read_it_earlier_is_told_that_it_changed(
    resin: Consumable, helper: Person, now: datetime
) -> None:
    change_consumable(by=helper, consumable=resin, now=now, place="A")
    with pytest.raises(Clash, match="has changed since you read it"):
        change_consumable(by=helper, consumable=resin, now=now, place="B", version=1)


def test_it_goes_for_good_with_a_reason_and_is_not_used_again(
    resin: Consumable, owner: Person, now: datetime
) -> None:
    with pytest.raises(BadInput, match="Why: nothing is written"):
        retire_consumable(by=owner, consumable=resin, why=" ", now=now)
    retire_consumable(by=owner, consumable=resin, why="set hard", now=now)
    with pytest.raises(Clash, match="gone from the shelf: set hard"):
        open_consumable(by=owner, consumable=resin, now=now)
