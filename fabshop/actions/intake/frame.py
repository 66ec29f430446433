"""Nodes and tubes of a frame out of tables, each tube with what its ends land on."""

from __future__ import annotations

import re
from collections.abc import Sequence

from fabshop.actions.frame import EndSaid, set_node, set_tube
from fabshop.actions.intake.cell import Cells
from fabshop.actions.intake.kind import Kind, Taker
from fabshop.actions.intake.table import Row
from fabshop.errors import ShopError
from fabshop.reckoning.frame.typed import angle_read
from fabshop.records.frame import Frame
from fabshop.units import parse_length_um

_ENDS = ("start", "end")


def _frame(cells: Cells) -> Frame | None:
    frame = Frame.objects.filter(code__iexact=cells.text("frame")).first()
    if frame is None:
        cells.wrong("frame", "is no frame here; begin it on its build's page")
    return frame


def _add_node(taker: Taker, rows: Sequence[Row]) -> None:
    cells = Cells(rows[0])
    frame = _frame(cells)
    place = {f"{axis}_um": cells.length_um(axis) or 0 for axis in ("x", "y", "z")}
    cells.refuse_if_bad()
    assert frame is not None
    set_node(by=taker.by, now=taker.now, frame=frame, code=cells.text("code"), **place)


def _add_tube(taker: Taker, rows: Sequence[Row]) -> None:
    """First only where it runs: what it lands on may stand in a later row."""
    _set_tube(taker, rows[0], is_linked=False)


def _link_tube(taker: Taker, row: Row) -> None:
    _set_tube(taker, row, is_linked=True)


def _set_tube(taker: Taker, row: Row, *, is_linked: bool) -> None:
    cells = Cells(row)
    frame = _frame(cells)
    od_um, wall_um = cells.length_um("od"), cells.length_um("wall")
    density = cells.milli("density")
    start, end = (_end(cells, name, is_linked) for name in _ENDS)
    bends = _bends(cells)
    cells.refuse_if_bad()
    assert frame is not None
    set_tube(
        by=taker.by,
        now=taker.now,
        frame=frame,
        mark=cells.text("mark"),
        start=cells.text("start"),
        end=cells.text("end"),
        od_um=od_um or 0,
        wall_um=wall_um or 0,
        ends=(start, end),
        bends=bends,
        material=cells.text("material"),
        density_kgm3=density,
        twin=cells.text("twin") if is_linked else "",
    )


def _end(cells: Cells, name: str, is_linked: bool) -> EndSaid:
    onto = cells.text(f"{name}_onto")
    offset = cells.length_um(f"{name}_offset")
    past = cells.length_um(f"{name}_past")
    angle = cells.text(f"{name}_angle")
    typed = None
    if angle:
        try:
            read = angle_read(angle, field=f"{name}_angle", label="Angle")
            typed = round(read * 1000)
        except ShopError:
            cells.wrong(f"{name}_angle", "is not degrees")
    if onto == "plate":
        return EndSaid(is_plate=True)
    return EndSaid(
        onto=onto if is_linked else "",
        offset_um=offset or 0,
        past_um=past,
        typed_mdeg=typed,
        joint=cells.text(f"{name}_joint"),
    )


def _bends(cells: Cells) -> list[tuple[str, int]]:
    """`K1:40 K2:40`: bent at these nodes, on these centreline radii."""
    bends = []
    for said in re.split(r"[\s;]+", cells.text("bends")):
        if not said:
            continue
        code, _, radius = said.partition(":")
        try:
            length = parse_length_um(radius, field="bends")
        except ShopError:
            length = None
        if length is None or length <= 0:
            cells.wrong("bends", f"“{said[:40]}” is not a node and a radius like K1:40")
        else:
            bends.append((code, length))
    return bends


NODES = Kind(
    "nodes",
    (
        ("frame", "code of a frame that is here"),
        ("code", "N1, one frame a table"),
        ("x", "forward: 120, 120,5 mm or 4 3/4 in"),
        ("y", "to the left"),
        ("z", "up"),
    ),
    ("frame", "code"),
    "code",
    _add_node,
)
TUBES = Kind(
    "tubes",
    (
        ("frame", "code of a frame that is here"),
        ("mark", "F01, scribed on the tube"),
        ("start", "code of a node"),
        ("end", "code of a node"),
        ("od", "8 or 1/4 in"),
        ("wall", "0.9 or 035 in"),
        ("material", "ti-9, 304, 4130 or in words"),
        ("density", "g/cm³, empty as published for the material"),
        *(
            column
            for name in _ENDS
            for column in (
                (f"{name}_onto", "mark of the tube it is coped onto; or plate"),
                (f"{name}_offset", "towards its own 90 mark"),
                (f"{name}_angle", "as measured, to be held against the frame"),
                (f"{name}_past", "past the node where it runs through"),
                (f"{name}_joint", "code of the joint"),
            )
        ),
        ("bends", "nodes and centreline radii: K1:40 K2:40"),
        ("twin", "mark of the mirrored tube"),
    ),
    ("frame", "mark", "start", "end", "od", "wall"),
    "mark",
    _add_tube,
    _link_tube,
)
