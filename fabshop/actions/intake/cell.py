"""Reads the cells of one row, and gathers what is wrong with each by its column."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime
from typing import TypeVar

from fabshop import units
from fabshop.actions import wall
from fabshop.actions.intake.table import BadCell, Row, serial_day
from fabshop.errors import ShopError
from fabshop.words import Word

Read = TypeVar("Read")
AWord = TypeVar("AWord", bound=Word)

_YES = ("yes", "y", "x", "1", "true", "ja", "oui")
_NO = ("", "no", "n", "0", "false", "nein", "non", "-", "—")


class BadRow(Exception):
    """One row cannot be taken in; what is wrong with which of its cells."""

    def __init__(self, *bad: BadCell) -> None:
        super().__init__(f"{len(bad)} bad cells")
        self.bad = bad


class Cells:
    """One row, read cell by cell; `refuse_if_bad` raises all that is wrong at once."""

    def __init__(self, row: Row) -> None:
        self.row = row
        self.bad: list[BadCell] = []

    def text(self, column: str) -> str:
        return self.row[column]

    def minutes(self, column: str) -> int | None:
        return self._read(column, units.parse_minutes)

    def whole(self, column: str) -> int | None:
        # A spreadsheet shows a whole number as 3.0 where the column has others.
        return self._read(
            column, units.parse_whole, re.sub(r"[.,]0$", "", self[column])
        )

    def milli(self, column: str) -> int | None:
        return self._read(column, units.parse_milli) if self[column] else None

    def mass_mg(self, column: str) -> int | None:
        return self._read(column, units.parse_mass_mg)

    def length_um(self, column: str) -> int | None:
        return self._read(column, units.parse_length_um, self[column].replace("−", "-"))

    def points(self, column: str) -> int:
        seen = re.sub(r"[.,]0$", "", self[column].replace("−", "-"))
        if re.fullmatch(r"[+-]?\d{1,4}", seen):
            return int(seen)
        if seen:
            self.wrong(column, "is not a whole number")
        return 0

    def day(self, column: str) -> date | None:
        """A day as written, or as a spreadsheet keeps it: a bare number."""
        seen = self[column].removesuffix(" 00:00:00").removesuffix(" 00:00")
        return serial_day(seen) or self._read(column, units.parse_day, seen)

    def moment(self, column: str) -> datetime | None:
        """A day and a time on the shop's wall clock; a bare day means its noon."""
        seen = self[column]
        if not seen:
            return None
        try:
            read = datetime.fromisoformat(seen)
        except ValueError:
            on = self.day(column)
            if on is None:
                return None
            return datetime(on.year, on.month, on.day, 12, tzinfo=wall.zone())
        if len(seen) <= 10:
            read = read.replace(hour=12)
        return read if read.tzinfo else read.replace(tzinfo=wall.zone())

    def word(self, column: str, kind: type[AWord], otherwise: AWord) -> AWord:
        """A fixed word by its value or by what pages call it."""
        seen = self[column].lower()
        if not seen:
            return otherwise
        for word in kind:
            if seen in (word.value.lower(), word.label.lower()):
                return word
        known = ", ".join(word.label for word in kind if word.value)
        self.wrong(column, f"is none of {known}")
        return otherwise

    def is_yes(self, column: str, otherwise: bool = False) -> bool:
        seen = self[column].lower()
        if not seen:
            return otherwise
        if seen not in (*_YES, *_NO):
            self.wrong(column, "is neither yes nor no")
        return seen in _YES

    def codes(self, column: str) -> list[str]:
        seen = self[column]
        return (
            [] if seen in ("-", "—") else [c for c in re.split(r"[\s,;]+", seen) if c]
        )

    def wrong(self, column: str, message: str) -> None:
        self.bad.append(BadCell(self.row.number, column, self[column][:80], message))

    def refuse_if_bad(self) -> None:
        if self.bad:
            raise BadRow(*self.bad)

    def __getitem__(self, column: str) -> str:
        return self.row[column]

    def _read(
        self, column: str, parse: Callable[..., Read], seen: str | None = None
    ) -> Read | None:
        try:
            return parse(self[column] if seen is None else seen, field=column)
        except ShopError as error:
            self.wrong(column, error.message.removeprefix(f"{column}: "))
            return None
