"""Changes of a state that remember what was, so that an undo can put it back."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any, cast

from django.db.models import Field

from fabshop.errors import Clash
from fabshop.records.build import Component
from fabshop.records.joint import Joint
from fabshop.records.order import Order
from fabshop.records.task import Task

Movable = Task | Component | Order | Joint
Before = dict[str, Any]

TABLES: dict[str, type[Task | Component | Order | Joint]] = {
    "task": Task,
    "component": Component,
    "order": Order,
    "joint": Joint,
}


def move(row: Movable, before: Before, **changes: Any) -> None:
    """Save `changes` of one row and note in `before` what they replaced.

    The row's version goes up: whoever read it earlier is told so.
    """
    was = {name: _plain(getattr(row, name)) for name in changes}
    for name, value in changes.items():
        setattr(row, name, value)
    row.version += 1
    row.save(update_fields=[*changes, "version"])
    before.setdefault("rows", []).append(
        {
            "table": type(row).__name__.lower(),
            "id": row.pk,
            "was": was,
            "version": row.version,
        }
    )


def put_back(before: Before) -> None:
    """Undo every `move` noted in `before`; refuse where a row has moved since."""
    notes = before.get("rows", [])
    rows: dict[tuple[str, int], Movable] = {}
    for note in notes:
        key = (note["table"], note["id"])
        if key not in rows:
            rows[key] = (
                TABLES[note["table"]]
                .objects.select_for_update(no_key=True)
                .get(pk=note["id"])
            )
    last = {(note["table"], note["id"]): note["version"] for note in notes}
    for key, row in rows.items():
        if row.version != last[key]:
            raise Clash(
                f"{row} has changed since; this cannot be undone any more. "
                "Write what is true now instead."
            )
    for note in reversed(notes):
        row = rows[note["table"], note["id"]]
        changes = {
            name: cast("Field[Any, Any]", row._meta.get_field(name)).to_python(value)
            for name, value in note["was"].items()
        }
        move(row, {}, **changes)


def _plain(value: Any) -> Any:
    return value.isoformat() if isinstance(value, date | datetime) else value
