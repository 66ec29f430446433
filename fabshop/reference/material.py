"""What a material weighs, as published, and how far a batch may be from that."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fabshop.reference.table import table


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """One material; `density_mg_cm3` is milligrams to the cubic centimetre.

    `basis` is how the figure came here: published (read in the source), from memory,
    or by the rule of mixtures. `within_percent`: how far a batch may be from it.
    """

    code: str
    name: str
    family: str
    density_mg_cm3: int
    within_percent: int
    basis: str
    source: str


@cache
def materials() -> dict[str, MaterialRow]:
    """All materials of the reference, by code, in the order of the table."""
    return {
        row["code"]: MaterialRow(
            code=row["code"],
            name=row["name"],
            family=row["family"],
            density_mg_cm3=int(row["density_mg_cm3"]),
            within_percent=int(row["within_percent"]),
            basis=row["basis"],
            source=row["source"],
        )
        for row in table("materials.csv")
    }
