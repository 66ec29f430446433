"""The drawings of the demo shop's cut parts, and what was measured on one of them."""

from __future__ import annotations

from fabshop.actions.drawing import (
    decide_check,
    describe_line,
    measure_check,
    put_drawing,
)
from fabshop.actions.stock.material import material_called
from fabshop.console.demo.anchor import TABLES, Anchor, table
from fabshop.records.order import OrderLine
from fabshop.records.shop import Person


def tell_drawings(*, by: Person, anchor: Anchor) -> None:
    """Put each drawing on its line, before anything of it is sent."""
    for row in table("drawing")["drawings"]:
        at, line = anchor.moment(row["at"]), _line(row["line"])
        put_drawing(
            by=by,
            line=line,
            content=(TABLES / "drawings" / row["file"]).read_bytes(),
            file_name=row["file"],
            revision=row["revision"],
            now=at,
        )
        describe_line(
            by=by,
            line=line,
            material=material_called(row["material"]),
            thickness_um=row["thickness_um"],
            finish=row["finish"],
            now=at,
        )


def tell_checks(*, by: Person, anchor: Anchor) -> None:
    """Measure what had come, and say what became of it."""
    for row in table("drawing")["checks"]:
        at = anchor.moment(row["at"])
        check = measure_check(
            by=by,
            line=_line(row["line"]),
            label=row["label"],
            nominal_um=row["nominal_um"],
            reading_um=row["reading_um"],
            tolerance=row["tolerance"],
            now=at,
        )
        decide_check(by=by, check=check, how=row["how"], reason=row["reason"], now=at)


def _line(name: str) -> OrderLine:
    code, number = name.split("/")
    return OrderLine.objects.select_related("order").get(
        order__code=code, number=number
    )
