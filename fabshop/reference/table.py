"""Reads one table of `shared/` once; a row that does not say its source is refused."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path
from types import MappingProxyType

SHARED = Path(__file__).resolve().parents[2] / "shared"

Row = MappingProxyType[str, str]


@cache
def table(name: str) -> tuple[Row, ...]:
    """The rows of `shared/<name>`, by the names in its first line, as they are told.

    Each row must have a `source`, for a number that nobody can check is worth little.
    """
    with (SHARED / name).open(newline="", encoding="utf-8") as file:
        rows = tuple(MappingProxyType(row) for row in csv.DictReader(file))
    for row in rows:
        if not row.get("source"):
            raise ValueError(f"shared/{name}: a row has no source: {dict(row)}")
    return rows
