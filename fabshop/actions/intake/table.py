"""Reads a CSV file as spreadsheets really write it: rows, cells, and what was odd.

    table = read_table(content, columns=("code", "name", "off"), needed=("code",))
    table.rows[0].cells["name"]

A byte-order mark, semicolons or tabs for commas, and old Windows text are all read.
Row numbers are those that a spreadsheet shows: the heading is row 1.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from fabshop.errors import BadInput, TooLarge

MOST_BYTES = 2_000_000
MOST_ROWS = 1_000

# Day 60 of the spreadsheets' calendar is a 29 February 1900 that never was, so
# counting from 30 December 1899 is right for every day after it.
_SERIAL_DAY_NOUGHT = date(1899, 12, 30)


@dataclass(frozen=True, slots=True)
class BadCell:
    """What is wrong with one cell; `column` is "" where it is the whole row."""

    row: int
    column: str
    seen: str
    message: str


@dataclass(frozen=True, slots=True)
class Row:
    number: int
    cells: dict[str, str]

    def __getitem__(self, column: str) -> str:
        return self.cells.get(column, "")


@dataclass(frozen=True, slots=True)
class Table:
    rows: tuple[Row, ...]
    bad: tuple[BadCell, ...]
    notices: tuple[str, ...]


def read_table(
    content: bytes, *, columns: Sequence[str], needed: Sequence[str]
) -> Table:
    """Read a CSV; refuse it whole only where no row of it could be understood."""
    if len(content) > MOST_BYTES:
        raise TooLarge(
            f"The file has {len(content):,} bytes; {MOST_BYTES:,} is the most. "
            "Split it and take it in by parts.",
            field="file",
        )
    text, notices = as_text(content)
    divider = _divider(text)
    if divider != ",":
        shown = {";": "semicolons", "\t": "tabs"}[divider]
        notices.append(f"Cells are divided by {shown}.")
    lines = csv.reader(io.StringIO(text, newline=""), delimiter=divider)
    try:
        numbered = [(number, cells) for number, cells in enumerate(lines, start=1)]
    except csv.Error as error:
        raise BadInput(
            f"The file is not a CSV table: {error}.", field="file"
        ) from error
    filled = [(n, cells) for n, cells in numbered if any(c.strip() for c in cells)]
    if not filled:
        raise BadInput("The file is empty: it has no heading.", field="file")
    heading = _heading(filled[0][1], columns, needed, notices)
    if len(filled) - 1 > MOST_ROWS:
        raise TooLarge(
            f"The file has {len(filled) - 1:,} rows; {MOST_ROWS:,} is the most.",
            field="file",
        )
    return _rows(filled[1:], heading, needed, notices)


def serial_day(text: str) -> date | None:
    """The day that a spreadsheet kept as a bare number, or None if it is none.

    Taken for a day from 1990 to 2099, so that a year or a count is not one.
    """
    whole = text.strip().removesuffix(".0")
    if whole.isdecimal() and 32874 <= int(whole) <= 73050:
        return _SERIAL_DAY_NOUGHT + timedelta(days=int(whole))
    return None


def as_text(content: bytes) -> tuple[str, list[str]]:
    """The file as text, with what was odd about it."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", errors="replace"), ["Read as UTF-16 text."]
    try:
        text = content.decode("utf-8-sig")
        notices: list[str] = []
    except UnicodeDecodeError:
        text = content.decode("cp1252", errors="replace")
        notices = ["Read as old Windows text: look at the accents."]
    if "\0" in text:
        text = text.replace("\0", "")
        notices.append("Bytes that are no text were left out.")
    return text, notices


def _divider(text: str) -> str:
    heading = next((line for line in text.splitlines() if line.strip()), "")
    return max(",;\t", key=heading.count) if heading else ","


def _heading(
    cells: Sequence[str],
    columns: Sequence[str],
    needed: Sequence[str],
    notices: list[str],
) -> list[str]:
    heading = [cell.strip().lower().replace(" ", "_") for cell in cells]
    missing = [column for column in needed if column not in heading]
    if missing:
        raise BadInput(
            f"The column {' and '.join(missing)} is missing. The heading seen is: "
            f"{', '.join(name or '(empty)' for name in heading)[:300]}.",
            field="file",
            code="missing-column",
        )
    twice = sorted({name for name in heading if name and heading.count(name) > 1})
    if twice:
        raise BadInput(
            f"The column {' and '.join(twice)} is there twice.", field="file"
        )
    unknown = [name for name in heading if name and name not in columns]
    if unknown:
        notices.append(f"Not read, since no column is called so: {', '.join(unknown)}.")
    return heading


def _rows(
    filled: Sequence[tuple[int, Sequence[str]]],
    heading: Sequence[str],
    needed: Sequence[str],
    notices: Sequence[str],
) -> Table:
    rows: list[Row] = []
    bad: list[BadCell] = []
    for number, cells in filled:
        # Rows that are bad are read too: what they name is known to be left out.
        named = {name: cell.strip() for name, cell in zip(heading, cells, strict=False)}
        rows.append(Row(number, named))
        if extra := [cell for cell in cells[len(heading) :] if cell.strip()]:
            message = f"has {len(cells)} cells where the heading has {len(heading)}"
            bad.append(BadCell(number, "", extra[0][:80], message))
        bad += [
            BadCell(number, name, "", "is empty")
            for name in needed
            if not named.get(name)
        ]
    return Table(tuple(rows), tuple(bad), tuple(notices))
