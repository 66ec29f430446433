"""Short cautions for where work can hurt somebody, each with its source."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from fabshop.reference.table import table

DEFER = "defer"


@dataclass(frozen=True, slots=True)
class CautionRow:
    code: str
    text: str
    basis: str
    source: str


@cache
def cautions() -> dict[str, CautionRow]:
    """All cautions by name."""
    return {
        row["code"]: CautionRow(row["code"], row["text"], row["basis"], row["source"])
        for row in table("cautions.csv")
    }


def told(codes: Iterable[str]) -> list[CautionRow]:
    """These cautions, each once, and after them the one that defers."""
    known = cautions()
    found = [known[code] for code in dict.fromkeys(codes) if code in known]
    return [*found, known[DEFER]] if found else []
