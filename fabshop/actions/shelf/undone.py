"""What an undo does to the shelf: a move or an overruling is taken back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from fabshop.errors import Clash
from fabshop.records.log import LogEntry
from fabshop.records.shelf import Consumable, ShelfMove, ShelfWaiver, Tray
from fabshop.records.shop import Person


def undo_move(entry: LogEntry, by: Person, now: datetime) -> None:
    ShelfMove.objects.filter(pk=entry.before["shelf_move"]).update(is_taken_back=True)


def undo_waiver(entry: LogEntry, by: Person, now: datetime) -> None:
    """Nothing may stand on it: used all the same, it stays overruled."""
    waiver = ShelfWaiver.objects.get(pk=entry.before["shelf_waiver"])
    used = ShelfMove.objects.filter(
        consumable=waiver.consumable_id,
        task=waiver.task_id,
        is_gone_off=True,
        is_taken_back=False,
    )
    if used.exists():
        raise Clash("It was used since; undo that first.")
    waiver.is_taken_back = True
    waiver.save(update_fields=["is_taken_back"])


def undo_opened(entry: LogEntry, by: Person, now: datetime) -> None:
    Consumable.objects.filter(pk=entry.before["shelf_opened"]).update(
        is_opened=False, opened_on=None
    )


def undo_retired(entry: LogEntry, by: Person, now: datetime) -> None:
    of = entry.before["shelf_retired"]
    kind: type[Consumable] | type[Tray] = Consumable if of == "consumable" else Tray
    kind._default_manager.filter(pk=entry.before[of]).update(
        retired_at=None, retired_why=""
    )


SHELF_EFFECTS: dict[str, Callable[[LogEntry, Person, datetime], None]] = {
    "shelf_move": undo_move,
    "shelf_waiver": undo_waiver,
    "shelf_opened": undo_opened,
    "shelf_retired": undo_retired,
}
