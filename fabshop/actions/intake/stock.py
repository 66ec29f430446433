"""Pieces of one's own rack out of a table, sizes written as the trade writes them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fabshop import units, words
from fabshop.actions.intake.cell import Cells
from fabshop.actions.intake.kind import Kind, Taker
from fabshop.actions.intake.table import Row
from fabshop.actions.stock import add_piece
from fabshop.actions.stock.piece import MEASURES, measured
from fabshop.errors import ShopError

# How many measures stand under `size`, besides those of the section.
_SIZES = {
    words.PieceForm.TUBE: ("length_um",),
    words.PieceForm.ROD: ("length_um",),
    words.PieceForm.SHEET: ("length_um", "width_um"),
    words.PieceForm.ROLL: ("length_um", "width_um"),
}


def _add_piece(taker: Taker, rows: Sequence[Row]) -> None:
    cells = Cells(rows[0])
    form = cells.word("form", words.PieceForm, words.PieceForm.TUBE)
    names = [name for name in MEASURES[form] if name not in _SIZES[form]]
    sizes: dict[str, Any] = _read(cells, "section", names)
    sizes |= _read(cells, "size", _SIZES[form])
    grain = cells.word("grain", words.Grain, words.Grain.NONE)
    is_drop = cells.is_yes("is_drop")
    cells.refuse_if_bad()
    try:
        measured(form, **sizes)
    except ShopError as error:
        of_section = f"{error.field}_um" in names
        cells.wrong("section" if of_section else "size", error.message)
        cells.refuse_if_bad()
    add_piece(
        by=taker.by,
        now=taker.now,
        code=cells.text("code"),
        form=form,
        material=cells.text("material"),
        heat_lot=cells.text("heat_lot"),
        place=cells.text("place"),
        is_drop=is_drop,
        grain=grain,
        note=cells.text("note"),
        **sizes,
    )


def _read(cells: Cells, column: str, names: Sequence[str]) -> dict[str, int]:
    """The measures of one cell by their names; what cannot be read is gathered."""
    try:
        read = units.parse_sizes_um(cells.text(column), count=len(names), field=column)
    except ShopError as error:
        cells.wrong(column, error.message.removeprefix(f"{column}: "))
        return {}
    return dict(zip(names, read or (), strict=False))


PIECES = Kind(
    "pieces",
    (
        ("code", "M01, never used again"),
        ("form", "tube (where empty), rod, sheet or roll"),
        ("material", "code of a material: 4130, 304, 5754"),
        ("section", "8x0.9 for a tube, 3 for a rod, 1.5 for a sheet or roll"),
        ("size", "its length, 300 x 400 for a sheet; 39 1/2 in"),
        ("heat_lot", "empty or unknown where nobody knows it"),
        ("place", "rack 1"),
        ("is_drop", "yes where it is what a cut left over"),
        ("grain", "which way it runs, of a sheet"),
        ("note", ""),
    ),
    ("code", "material", "section", "size"),
    "code",
    _add_piece,
)
