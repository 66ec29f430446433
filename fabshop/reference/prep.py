"""How a joint is prepared, metal by metal, each step with where it is from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fabshop import words
from fabshop.reference.table import table


@dataclass(frozen=True, slots=True)
class PrepRow:
    """One step of a checklist. `basis`: published, by a supplier, or from memory."""

    metal: words.Metal
    number: int
    stage: words.PrepStage
    kind: words.PrepKind
    does: words.PrepDoes
    is_stop: bool
    text: str
    unit: str
    caution: str
    basis: str
    source: str


@cache
def prep_rows() -> dict[words.Metal, tuple[PrepRow, ...]]:
    """The checklist of every metal, in the order of the table."""
    found: dict[words.Metal, list[PrepRow]] = {metal: [] for metal in words.Metal}
    for row in table("prep.csv"):
        metal = words.Metal(row["metal"])
        found[metal].append(
            PrepRow(
                metal=metal,
                number=int(row["number"]),
                stage=words.PrepStage(row["stage"]),
                kind=words.PrepKind(row["kind"]),
                does=words.PrepDoes(row["does"]),
                is_stop=row["is_stop"] == "yes",
                text=row["text"],
                unit=row["unit"],
                caution=row["caution"],
                basis=row["basis"],
                source=row["source"],
            )
        )
    return {metal: tuple(rows) for metal, rows in found.items()}
