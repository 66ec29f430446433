"""The demo shop's rack: what lies there, what tasks hold, and what is to be cut."""

from __future__ import annotations

from datetime import datetime

from fabshop.actions.stock import add_piece, add_wish, reserve_piece
from fabshop.console.demo.anchor import table
from fabshop.records.shop import Person
from fabshop.records.task import Task


def tell_stock(*, owner: Person, at: datetime) -> None:
    """Tell the rack, after the tasks that hold some of it."""
    told = table("stock")
    tasks = Task.objects.in_bulk(field_name="code")
    pieces = {row["code"]: add_piece(by=owner, now=at, **row) for row in told["pieces"]}
    for row in told["wishes"]:
        wish = dict(row)
        add_wish(by=owner, now=at, **{**wish, "task": tasks[wish["task"]]})
    for code, task, *length in told["held"]:
        reserve_piece(
            by=owner,
            now=at,
            piece=pieces[code],
            task=tasks[task],
            length_um=length[0] if length else None,
        )
