"""A table is tried whole, and written whole or not at all.

    tried = take_table(by=owner, kind="tasks", content=content, now=now)
    taken = take_table(by=owner, kind="tasks", content=content, now=now, accept="good")

Trying runs the very actions of the forms and takes all of it back, so that what
is refused there is refused here, by row and column.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from django.db import transaction

from fabshop.actions.intake.build import BUILDS, COMPONENTS
from fabshop.actions.intake.cell import BadRow
from fabshop.actions.intake.frame import NODES, TUBES
from fabshop.actions.intake.kind import Kind, Taker
from fabshop.actions.intake.order import ORDERS, SUPPLIERS
from fabshop.actions.intake.stock import PIECES
from fabshop.actions.intake.table import BadCell, Row, Table, read_table
from fabshop.actions.intake.task import TASKS
from fabshop.actions.shop import require
from fabshop.errors import NotFound, ShopError
from fabshop.records.shop import Person

KINDS: dict[str, Kind] = {
    kind.noun: kind
    for kind in (BUILDS, COMPONENTS, TASKS, SUPPLIERS, ORDERS, NODES, TUBES, PIECES)
}


@dataclass(frozen=True)
class Taken:
    """What came of a table: how many rows are `good`, and every `bad` cell.

    `is_written`: the good rows are in the shop now; else nothing was written.
    """

    kind: Kind
    good: int
    bad: tuple[BadCell, ...]
    notices: tuple[str, ...]
    is_written: bool

    @property
    def bad_rows(self) -> int:
        return len({cell.row for cell in self.bad})


class _TakenBack(Exception):
    """Leaves the transaction so that nothing of it stays."""


def kind_of(noun: str) -> Kind:
    if noun not in KINDS:
        raise NotFound(
            f"There is no table of {noun[:40]}; there is {', '.join(KINDS)}."
        )
    return KINDS[noun]


def take_table(
    *,
    by: Person,
    kind: str,
    content: bytes,
    now: datetime,
    accept: Literal["", "all", "good"] = "",
) -> Taken:
    """Try a table; write it where `accept` is `all` and nothing is bad, or `good`.

    With `good`, rows that are bad or hang on a bad one are left out.
    """
    require(by, "own")
    known = kind_of(kind)
    table = read_table(content, columns=known.names, needed=known.needed)
    bad = [*table.bad, *_twice(known, table)]
    taker = Taker(by, now)
    while True:
        bad += _with_their_group(known, table, bad)
        wrong = {cell.row for cell in bad}
        rows = [row for row in table.rows if row.number not in wrong]
        found: list[BadCell] = []
        is_written = False
        try:
            with transaction.atomic():
                found = _take(known, taker, rows)
                if found or not accept or (bad and accept != "good") or not rows:
                    raise _TakenBack
                is_written = True
        except _TakenBack:
            pass
        bad += found
        # What hangs on a bad row is bad in the next round; each round loses a row.
        if not found:
            break
    bad.sort(key=lambda cell: (cell.row, cell.column))
    return Taken(known, len(rows), tuple(bad), table.notices, is_written)


def _take(kind: Kind, taker: Taker, rows: Sequence[Row]) -> list[BadCell]:
    groups: dict[str, list[Row]] = {}
    for row in rows:
        groups.setdefault(row[kind.key], []).append(row)
    bad: list[BadCell] = []
    for group in groups.values():
        try:
            with transaction.atomic():
                kind.add(taker, group)
        except BadRow as error:
            bad += error.bad
        except ShopError as error:
            bad += _cells(kind, group[0], error)
    if kind.link is None or bad:
        # Links to rows that failed would all be told as failing too.
        return bad
    for row in rows:
        try:
            with transaction.atomic():
                kind.link(taker, row)
        except BadRow as error:
            bad += error.bad
        except ShopError as error:
            bad += _cells(kind, row, error)
    return bad


def _cells(kind: Kind, row: Row, error: ShopError) -> list[BadCell]:
    """What an action refused, at the column that its field is called by."""
    called = {
        "routes": "under",
        "covers": "under",
        "mass_mg": "mass",
        "quantity_milli": "quantity",
        "lines": "quantity",
        "sites": "opens",
        "stages": "minutes",
        "on": "sent_on",
    }
    fields = error.errors or ()
    found = []
    for field in fields or [None]:
        name = field.field if field else ""
        column = called.get(name, name)
        column = column if column in kind.names else ""
        message = field.message if field else error.message
        found.append(BadCell(row.number, column, row[column][:80], message))
    return found


def _with_their_group(
    kind: Kind, table: Table, bad: Sequence[BadCell]
) -> list[BadCell]:
    """The good rows that belong to a bad one: an order is not taken without a line."""
    if not kind.may_repeat:
        return []
    wrong = {cell.row for cell in bad}
    keys = {row[kind.key]: row.number for row in table.rows if row.number in wrong}
    return [
        BadCell(
            row.number,
            kind.key,
            row[kind.key][:80],
            f"goes with row {keys[row[kind.key]]}, which is bad",
        )
        for row in table.rows
        if row.number not in wrong and row[kind.key] in keys
    ]


def _twice(kind: Kind, table: Table) -> list[BadCell]:
    """Rows that name again what an earlier row of the table has named."""
    if kind.may_repeat:
        return []
    first: dict[str, int] = {}
    bad = []
    for row in table.rows:
        seen = row[kind.key]
        if seen.lower() in first:
            message = f"is in row {first[seen.lower()]} already"
            bad.append(BadCell(row.number, kind.key, seen[:80], message))
        first.setdefault(seen.lower(), row.number)
    return bad
