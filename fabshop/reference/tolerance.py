"""How far a dimension may be off where its drawing does not say: two standards."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fabshop import words
from fabshop.reference.table import table


@dataclass(frozen=True, slots=True)
class Row:
    """One cell of a table; in ISO 2768-1 a step includes its upper end, not its lower
    one, in ISO 9013 it is the other way round for the dimension.
    """

    tolerance: words.Tolerance
    over_thickness_um: int
    to_thickness_um: int
    from_um: int
    to_um: int
    deviation_um: int
    source: str

    def holds(self, nominal_um: int, thickness_um: int | None) -> bool:
        if self.to_thickness_um:
            thick = thickness_um or 0
            if not self.over_thickness_um < thick <= self.to_thickness_um:
                return False
            return self.from_um <= nominal_um < self.to_um
        # The first step is 0.5 up to 3, and 0.5 itself belongs to it.
        lowest = self.from_um == 500 and nominal_um == 500
        return lowest or self.from_um < nominal_um <= self.to_um


@cache
def tolerances() -> tuple[Row, ...]:
    """Every cell of both standards that says something."""
    return tuple(
        Row(
            tolerance=words.Tolerance(f"{row['standard']}-{row['class']}"),
            over_thickness_um=_um(row["thickness_over_mm"]),
            to_thickness_um=_um(row["thickness_to_mm"]),
            from_um=_um(row["nominal_from_mm"]),
            to_um=_um(row["nominal_to_mm"]),
            deviation_um=_um(row["deviation_mm"]),
            source=row["source"],
        )
        for row in table("tolerances.csv")
    )


def deviation(
    tolerance: words.Tolerance, nominal_um: int, thickness_um: int | None = None
) -> Row | None:
    """The cell for a dimension; None where the standard does not say."""
    return next(
        (
            row
            for row in tolerances()
            if row.tolerance is tolerance and row.holds(nominal_um, thickness_um)
        ),
        None,
    )


def _um(mm: str) -> int:
    return round(float(mm) * 1000) if mm else 0
