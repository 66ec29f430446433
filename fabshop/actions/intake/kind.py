"""What a table of each kind must hold, and how one row of it is taken in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

from fabshop.actions.intake.table import Row
from fabshop.records.shop import Person


@dataclass(frozen=True)
class Taker:
    """Who takes rows in, and when."""

    by: Person
    now: datetime


@dataclass(frozen=True)
class Kind:
    """One kind of table.

    `add` takes in the rows that share a `key` (lines of one order do; else it is
    one row); `link` says afterwards what refers to other rows of the same table.
    `columns` are (name, what to write in it); those in `needed` may not be empty.
    """

    noun: str
    columns: tuple[tuple[str, str], ...]
    needed: tuple[str, ...]
    key: str
    add: Callable[[Taker, Sequence[Row]], None]
    link: Callable[[Taker, Row], None] | None = None
    may_repeat: bool = False

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(name for name, _ in self.columns)
