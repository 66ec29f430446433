"""Ten minutes to take back what was said of the shelf."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.log import undo_entry
from fabshop.actions.shelf import (
    let_through,
    open_consumable,
    retire_consumable,
    retire_tray,
    take_from_tray,
    use_consumable,
)
from fabshop.actions.shelf.locked import left_of
from fabshop.errors import Clash
from fabshop.records.log import LogEntry
from fabshop.records.shelf import Consumable, Tray
from fabshop.records.shop import Person
from fabshop.records.task import Task

pytestmark = pytest.mark.django_db


def undo(by: Person, now: datetime, tap: str) -> None:
    undo_entry(by=by, entry=LogEntry.objects.get(client_id=tap), now=now)


def test_a_move_is_taken_back_and_stays_in_the_history(
    nuts: Tray, helper: Person, now: datetime
) -> None:
    take_from_tray(by=helper, tray=nuts, quantity_milli=6_000, now=now, client_id="a")
    undo(helper, now, "a")
    assert left_of(nuts) == 12_000
    assert nuts.moves.count() == 2


def test_it_was_not_opened_after_all(
    resin: Consumable, helper: Person, now: datetime
) -> None:
    open_consumable(by=helper, consumable=resin, now=now, client_id="a")
    undo(helper, now, "a")
    resin.refresh_from_db()
    assert (resin.is_opened, resin.opened_on) == (False, None)


def test_what_was_taken_off_the_shelf_is_there_again(
    resin: Consumable, nuts: Tray, owner: Person, now: datetime
) -> None:
    retire_consumable(by=owner, consumable=resin, why="x", now=now, client_id="a")
    retire_tray(by=owner, tray=nuts, why="x", now=now, client_id="b")
    undo(owner, now, "a")
    undo(owner, now, "b")
    assert Consumable.objects.on_the_shelf().get() == resin
    assert Tray.objects.on_the_shelf().get() == nuts


def test_an_overruling_stands_once_it_was_used(
    stale: Consumable, potting: Task, owner: Person, now: datetime
) -> None:
    let_through(
        by=owner, consumable=stale, task=potting, reason="x", now=now, client_id="a"
    )
    use_consumable(
        by=owner,
        consumable=stale,
        task=potting,
        quantity_milli=1_000,
        now=now,
        client_id="b",
    )
    with pytest.raises(Clash, match="It was used since"):
        undo(owner, now, "a")
    undo(owner, now, "b")
    undo(owner, now, "a")
    with pytest.raises(Clash, match="Held"):
        use_consumable(
            by=owner, consumable=stale, task=potting, quantity_milli=1_000, now=now
        )
