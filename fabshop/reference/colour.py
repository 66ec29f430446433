"""What the colour of a weld means, by a published table, before any brush."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fabshop import words
from fabshop.reference.table import table


@dataclass(frozen=True, slots=True)
class ColourRow:
    """One colour of one metal, judged by `table`."""

    metal: words.Metal
    table: str
    colour: words.Colour
    verdict: words.Verdict
    note: str
    basis: str
    source: str


@cache
def colour_rows() -> dict[words.Metal, tuple[ColourRow, ...]]:
    """The colours of the metals that have a table; the others are for a person."""
    found: dict[words.Metal, list[ColourRow]] = {}
    for row in table("colours.csv"):
        metal = words.Metal(row["metal"])
        found.setdefault(metal, []).append(
            ColourRow(
                metal=metal,
                table=row["table"],
                colour=words.Colour(row["colour"]),
                verdict=words.Verdict(row["verdict"]),
                note=row["note"],
                basis=row["basis"],
                source=row["source"],
            )
        )
    return {metal: tuple(rows) for metal, rows in found.items()}
