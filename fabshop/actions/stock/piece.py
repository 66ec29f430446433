"""Pieces put on the rack, moved, named by their lot, and gone from it."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction

from fabshop import words
from fabshop.actions.log import once, write_entry
from fabshop.actions.shop import require
from fabshop.actions.stock.locked import locked_piece, piece_of, refuse_gone
from fabshop.actions.stock.material import material_called
from fabshop.actions.typed import code as fit_code
from fabshop.actions.typed import one_line, some_line
from fabshop.errors import BadInput, Clash
from fabshop.records.shop import Person
from fabshop.records.stock import Material, Piece
from fabshop.units import show_length, show_sizes

MOST_UM = 2_000_000_000
# What each form is measured by, besides its length.
MEASURES = {
    words.PieceForm.TUBE: ("od_um", "wall_um"),
    words.PieceForm.ROD: ("od_um",),
    words.PieceForm.SHEET: ("thickness_um", "width_um"),
    words.PieceForm.ROLL: ("thickness_um", "width_um"),
}
_LABELS = {
    "od_um": "Diameter",
    "wall_um": "Wall",
    "thickness_um": "Thickness",
    "width_um": "Width",
    "length_um": "Length",
}


@once(words.EntryKind.ON_RACK, first=piece_of)
def add_piece(
    *,
    by: Person,
    code: str,
    form: words.PieceForm | str,
    material: Material | str,
    length_um: int,
    now: datetime,
    od_um: int | None = None,
    wall_um: int | None = None,
    thickness_um: int | None = None,
    width_um: int | None = None,
    heat_lot: str = "",
    place: str = "",
    is_drop: bool = False,
    drop_of: Piece | str | None = None,
    grain: words.Grain | str = "",
    note: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Piece:
    """Put one piece on the rack, measured as its form asks."""
    require(by, "write")
    code = fit_code(code)
    measures = measured(
        form,
        length_um=length_um,
        od_um=od_um,
        wall_um=wall_um,
        thickness_um=thickness_um,
        width_um=width_um,
    )
    if isinstance(material, str):
        material = material_called(material)
    if isinstance(drop_of, str):
        parent = Piece.objects.filter(code=drop_of).first()
        if parent is None:
            raise BadInput(f"Drop of: there is no piece {drop_of}.", field="drop_of")
        drop_of = parent
    flat = form in (words.PieceForm.SHEET, words.PieceForm.ROLL)
    if grain not in list(words.Grain) or (grain and not flat):
        raise BadInput(f"Grain: “{grain}” cannot be.", field="grain")
    try:
        with transaction.atomic():
            piece = Piece.objects.create(
                code=code,
                form=form,
                material=material,
                heat_lot=lot(heat_lot),
                place=one_line(place, field="place", label="Place", most=60),
                is_drop=is_drop or drop_of is not None,
                drop_of=drop_of,
                grain=grain,
                note=one_line(note, field="note", label="Note", most=160),
                came_at=at or now,
                **measures,
            )
    except IntegrityError:
        raise Clash(
            f"There is or was a piece {code} already; codes are not used again.",
            field="code",
        ) from None
    write_entry(
        kind=words.EntryKind.ON_RACK,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        text=f"On the rack: {told(piece)}",
        before={"piece": piece.pk, "added": piece.pk},
    )
    return piece


def measured(form: words.PieceForm | str, **sizes: int | None) -> dict[str, Any]:
    """The measures that this form has; refused by name where one cannot be."""
    if form not in list(words.PieceForm):
        known = ", ".join(word.label for word in words.PieceForm)
        raise BadInput(f"Form: “{form}” is none of {known}.", field="form")
    asked = (*MEASURES[words.PieceForm(form)], "length_um")
    for name in asked:
        size = sizes.get(name)
        if size is None or not 0 < size <= MOST_UM:
            shown = "nothing is written" if size is None else show_length(size)
            raise BadInput(
                f"{_LABELS[name]}: {shown}. It is more than 0 and up to 2 km.",
                field=name.removesuffix("_um"),
            )
    if extra := [name for name, size in sizes.items() if size and name not in asked]:
        raise BadInput(
            f"{_LABELS[extra[0]]}: a {words.PieceForm(form).label} has none.",
            field=extra[0].removesuffix("_um"),
        )
    od, wall = sizes.get("od_um"), sizes.get("wall_um")
    if od and wall and 2 * wall > od:
        raise BadInput(
            f"Wall: {show_length(wall)} is thicker than the radius of "
            f"{show_sizes(od)}. At most {show_length(od // 2)}.",
            field="wall",
        )
    return {name: sizes[name] for name in asked}


def lot(text: str) -> str:
    """A heat lot as stamped; what says that nobody knows it is kept as empty."""
    line = one_line(text, field="heat_lot", label="Heat lot", most=40)
    return "" if line.lower() in ("unknown", "?", "-", "—") else line


def told(piece: Piece) -> str:
    sizes = show_length(piece.length_um)
    if piece.width_um:
        sizes = show_sizes(piece.length_um, piece.width_um)
    return f"{piece.code} {piece.form} {piece.material.code} {piece.section}, {sizes}"


@once(words.EntryKind.CHANGED, first=piece_of)
def change_piece(
    *,
    by: Person,
    piece: Piece,
    now: datetime,
    place: str | None = None,
    heat_lot: str | None = None,
    note: str | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Piece:
    """Say where it lies now, which lot it is of, or something about it.

    The lot is the owner's to say: a frame is trusted because of it.
    """
    require(by, "write")
    piece = locked_piece(piece)
    refuse_gone(piece)
    said = []
    if place is not None:
        piece.place = one_line(place, field="place", label="Place", most=60)
        said.append(f"lies in {piece.place or 'no place'}")
    if heat_lot is not None and lot(heat_lot) != piece.heat_lot:
        require(by, "own")
        was = piece.heat_lot or "unknown"
        piece.heat_lot = lot(heat_lot)
        said.append(f"heat lot {piece.heat_lot or 'unknown'}, was {was}")
    if note is not None:
        piece.note = one_line(note, field="note", label="Note", most=160)
        said.append(piece.note or "note taken off")
    piece.save(update_fields=["place", "heat_lot", "note"])
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        text=f"{piece.code}: {'; '.join(said) or 'as it was'}",
        before={"piece": piece.pk},
    )
    return piece


@once(words.EntryKind.CHANGED, first=piece_of)
def retire_piece(
    *,
    by: Person,
    piece: Piece,
    why: str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Piece:
    """Take a piece off the rack for good; its history and its code stay."""
    require(by, "write")
    piece = locked_piece(piece)
    refuse_gone(piece)
    holder = piece.reservations.filter(released_at=None).select_related("task").first()
    if holder is not None:
        raise Clash(
            f"{holder.task} holds {piece.code}; let it go first.", code="is-held"
        )
    piece.retired_at = at or now
    piece.retired_why = some_line(why, field="why", label="Why", most=160)
    piece.save(update_fields=["retired_at", "retired_why"])
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        text=f"Gone from the rack: {piece.code}, {piece.retired_why}",
        before={"piece": piece.pk, "retired_piece": piece.pk},
    )
    return piece
