"""Reads a posted form field by field and gathers every refusal, with what was seen."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import date, datetime
from typing import TypeVar

from django.http import HttpRequest, QueryDict
from django.utils import timezone

from fabshop import units
from fabshop.errors import BadInput, FieldError, ShopError
from fabshop.words import Word

Read = TypeVar("Read")
AWord = TypeVar("AWord", bound=Word)

# One form grows by "another line"; past this it is a table, and CSV takes tables.
MOST_ROWS = 60


class Typed:
    """A posted form: `text`, `minutes`, `day` ... read one field each.

    A field that cannot be read is gathered and reads as None, so that all that is
    wrong is said at once; `refuse_if_wrong` raises it before anything is written.
    """

    def __init__(self, request: HttpRequest) -> None:
        self.post: QueryDict = request.POST
        self.errors: list[FieldError] = []

    def raw(self, name: str) -> str:
        return self.post.get(name, "").replace("\0", "").strip()

    def text(self, name: str, label: str, *, most: int = 200) -> str:
        seen = self.raw(name)
        if len(seen) > most:
            self.wrong(name, f"{label}: {len(seen)} characters; {most} fit.")
        return seen

    def needed(self, name: str, label: str, *, most: int = 160) -> str:
        seen = self.text(name, label, most=most)
        if not seen:
            self.wrong(name, f"{label}: nothing is written. It is needed.")
        return seen

    def minutes(self, name: str, label: str) -> int | None:
        return self._read(name, label, units.parse_minutes)

    def day(self, name: str, label: str) -> date | None:
        return self._read(name, label, units.parse_day)

    def moment(self, name: str, label: str) -> datetime | None:
        """A day and a time on the shop's wall clock; None where nothing is said."""
        seen = self.raw(name)
        try:
            read = datetime.fromisoformat(seen) if seen else None
            if read and timezone.is_naive(read):
                read = timezone.make_aware(read)
        except (ValueError, OverflowError):
            self.wrong(name, f"{label}: “{seen[:40]}” is not a day and a time.")
            return None
        return read

    def whole(self, name: str, label: str) -> int | None:
        return self._read(name, label, units.parse_whole)

    def mass_mg(self, name: str, label: str) -> int | None:
        return self._read(name, label, units.parse_mass_mg)

    def length_um(self, name: str, label: str) -> int | None:
        return self._read(name, label, units.parse_length_um)

    def milli(self, name: str, label: str) -> int | None:
        """A quantity in thousandths; None where nothing is written."""
        return self._read(name, label, units.parse_milli) if self.raw(name) else None

    def points(self, name: str, label: str) -> int:
        """Points may be lost as well as won."""
        seen = self.raw(name)
        if re.fullmatch(r"[+-]?\d{1,4}", seen.replace("−", "-")):
            return int(seen.replace("−", "-"))
        if seen:
            self.wrong(name, f"{label}: “{seen[:40]}” is not a whole number.")
        return 0

    def choice(
        self, name: str, label: str, words: type[AWord], otherwise: AWord
    ) -> AWord:
        seen = self.raw(name)
        if name not in self.post:
            return otherwise
        try:
            return words(seen)
        except ValueError:
            known = ", ".join(word.label or "none" for word in words)
            self.wrong(name, f"{label}: “{seen[:40]}” is none of {known}.")
            return otherwise

    def is_ticked(self, name: str) -> bool:
        return self.raw(name) not in ("", "0", "no")

    def codes(self, name: str) -> list[str]:
        """Codes ticked in a list, and those written out beside it, each once."""
        ticked = [code.replace("\0", "") for code in self.post.getlist(name)]
        written = re.split(r"[\s,;]+", self.raw(f"{name}-codes"))
        return list(dict.fromkeys(code for code in (*ticked, *written) if code))

    def rows(self, prefix: str, columns: Iterable[str]) -> list[int]:
        """The numbers of those rows `prefix-<n>-<column>` where something is typed."""
        names = set(columns)
        found = set()
        for name in self.post:
            match = re.fullmatch(rf"{re.escape(prefix)}-(\d{{1,3}})-(\w+)", name)
            if match and match[2] in names and self.raw(name):
                found.add(int(match[1]))
        return sorted(found)[:MOST_ROWS]

    def wrong(self, name: str, message: str) -> None:
        self.errors.append(FieldError(name, message))

    def refuse_if_wrong(self) -> None:
        if self.errors:
            raise BadInput(
                " ".join(dict.fromkeys(error.message for error in self.errors)),
                field=self.errors[0].field,
                errors=tuple(self.errors),
            )

    def _read(self, name: str, label: str, parse: Callable[..., Read]) -> Read | None:
        try:
            return parse(self.raw(name), field=name, label=label)
        except ShopError as error:
            self.errors.extend(error.errors)
            return None
