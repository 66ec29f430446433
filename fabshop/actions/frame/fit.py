"""How true the printer prints: kept from a measured bar, the latest one holds."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from fabshop.actions.shop.allowed import require
from fabshop.errors import BadInput
from fabshop.reckoning.wrap import corrected
from fabshop.records.frame import PrintFit
from fabshop.records.shop import Person
from fabshop.units import show_milli

_PPM = 1_000_000


@transaction.atomic
def keep_print_fit(
    *,
    by: Person,
    now: datetime,
    across_um: int | None = None,
    along_um: int | None = None,
    paper_um: int | None = None,
) -> PrintFit:
    """Keep what the bars of the last sheet measured; it was printed with the last fit.

    What is left out stays as it was.
    """
    require(by, "write")
    last = PrintFit.objects.first() or PrintFit()
    if paper_um is not None and not 0 <= paper_um <= 1000:
        raise BadInput(
            f"Paper thickness: {show_milli(paper_um)} mm is not 0 to 1 mm.",
            field="thick",
        )
    return PrintFit.objects.create(
        paper_um=last.paper_um if paper_um is None else paper_um,
        across_ppm=_ppm(across_um, last.across_ppm, "across"),
        along_ppm=_ppm(along_um, last.along_ppm, "along"),
        person=by,
        at=now,
    )


def _ppm(measured_um: int | None, before_ppm: int, way: str) -> int:
    if measured_um is None:
        return before_ppm
    label = f"Bar {way} the page"
    if not 42_000 <= measured_um <= 60_000:
        raise BadInput(
            f"{label}: {show_milli(measured_um)} mm is not 42 to 60 mm. Measure the "
            "bar that says 50.0 mm.",
            field=way,
        )
    ppm = round(corrected(measured_um / 1000, before_ppm / _PPM) * _PPM)
    if not 800_000 <= ppm <= 1_250_000:
        raise BadInput(
            f"{label}: that makes {ppm / _PPM:.2f} in all, which is another scale. "
            "Print at 100 % and measure again.",
            field=way,
        )
    return ppm
