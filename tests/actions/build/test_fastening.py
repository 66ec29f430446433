from datetime import datetime
from typing import Any

import pytest

from fabshop import words
from fabshop.actions.build import set_fastenings
from fabshop.errors import BadInput, NotAllowed
from fabshop.records.build import Component
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from tests.factories import ComponentFactory

SCREWS = {"count": 8, "size": "M3×8 BH", "locker": "medium", "torque_mnm": 900}


@pytest.fixture
def pan(db: None) -> Component:
    return ComponentFactory(code="T02", name="Belly pan")


def test_what_holds_a_part_is_replaced_whole(
    owner: Person, pan: Component, now: datetime
) -> None:
    set_fastenings(
        by=owner, component=pan, fastenings=[{"count": 2, "size": "ties"}], now=now
    )
    set_fastenings(
        by=owner,
        component=pan,
        fastenings=[SCREWS, {"count": 1, "size": "strap", "is_screw": False}],
        now=now,
    )
    screws, strap = pan.fastenings.all()
    assert (screws.locker, screws.torque_mnm) == (words.Locker.MEDIUM, 900)
    assert (screws.is_screw, strap.is_screw) == (True, False)
    assert LogEntry.objects.first().text == "T02 is held by 8×M3×8 BH, 1×strap."


def test_saying_what_is_so_already_changes_nothing(
    owner: Person, pan: Component, now: datetime
) -> None:
    for _ in range(2):
        set_fastenings(by=owner, component=pan, fastenings=[SCREWS], now=now)
    assert LogEntry.objects.count() == 1


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"count": 0}, "count"),
        ({"count": -1}, "count"),
        ({"count": 10_001}, "count"),
        ({"size": " "}, "size"),
        ({"size": "x" * 41}, "size"),
        ({"locker": "glue"}, "locker"),
        ({"torque_mnm": -1}, "torque_mnm"),
        ({"bag": "x" * 21}, "bag"),
        ({"colour": "red"}, "colour"),
    ],
)
def test_what_cannot_be_is_refused_by_its_line(
    owner: Person, pan: Component, now: datetime, change: dict[str, Any], field: str
) -> None:
    with pytest.raises(BadInput) as refused:
        set_fastenings(
            by=owner, component=pan, fastenings=[SCREWS, SCREWS | change], now=now
        )
    assert refused.value.field == f"fastenings[1].{field}"
    assert not pan.fastenings.exists()


def test_a_helper_does_not_change_what_holds_a_part(
    helper: Person, pan: Component, now: datetime
) -> None:
    with pytest.raises(NotAllowed):
        set_fastenings(by=helper, component=pan, fastenings=[], now=now)
