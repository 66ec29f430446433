"""A sheet is cut up as a list drew it: its blanks, its drop, and the rest is scrap."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from fabshop import words
from fabshop.actions.log import once, write_entry
from fabshop.actions.log.entry import new_client_id
from fabshop.actions.shop import require
from fabshop.actions.stock.hold import refuse_unknown_lot
from fabshop.actions.stock.locked import (
    locked_piece,
    piece_as_it_stands,
    piece_of,
    refuse_gone,
)
from fabshop.actions.stock.piece import add_piece
from fabshop.actions.typed import one_line
from fabshop.errors import Clash
from fabshop.records.shop import Person
from fabshop.records.stock import Cut, CutList, Piece
from fabshop.units import show_sizes


@once(words.EntryKind.CUT, first=piece_of)
def cut_sheet(
    *,
    by: Person,
    cut_list: CutList,
    piece: Piece,
    now: datetime,
    drop_code: str = "",
    waive: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Piece:
    """Book a whole sheet as the list drew it; returns the sheet, gone from the rack.

    `drop_code` puts the drop on the rack as a piece; without it the drop is scrap.
    """
    require(by, "write")
    piece = locked_piece(piece)
    refuse_gone(piece)
    marks = list(
        cut_list.marks.filter(piece=piece, wide_um__isnull=False)
        .select_related("wish__task")
        .order_by("number")
    )
    if not marks:
        raise Clash(f"{cut_list} draws nothing on {piece.code}.")
    stands = piece_as_it_stands(piece)
    drawn = _drawn(cut_list, piece)
    if (stands.left_um, stands.wide_um) != (
        *(round(drawn["length"] * 1000), round(drawn["width"] * 1000)),
    ):
        raise Clash(
            f"{piece.code} is {show_sizes(stands.left_um, stands.wide_um)} now, not "
            "as it was drawn. Make a fresh list.",
            code="has-moved",
        )
    is_frame = any(mark.wish.is_frame for mark in marks)
    refuse_unknown_lot(stands, is_frame, waive)
    others = [
        task
        for task, _ in stands.held
        if task not in {mark.wish.task.code for mark in marks if mark.wish.task}
    ]
    if others:
        raise Clash(f"{piece.code}: held for {' '.join(others)}.", code="is-held")
    drop = drawn["drop"] if drop_code else None
    kept = None
    if drop is not None:
        kept = add_piece(
            by=by,
            code=drop_code,
            form=piece.form,
            material=piece.material,
            length_um=round(drop["length"] * 1000),
            width_um=round(drop["width"] * 1000),
            thickness_um=piece.thickness_um,
            heat_lot=piece.heat_lot,
            place=piece.place,
            drop_of=piece,
            grain=piece.grain,
            now=now,
            at=at,
        )
    left = stands.left_um * stands.wide_um
    rest = kept.length_um * (kept.width_um or 0) if kept else 0
    client_id = client_id or new_client_id()
    cuts = []
    for number, mark in enumerate(marks):
        part = mark.part_um * (mark.wide_um or 0)
        is_last = number == len(marks) - 1
        scrap = left - part - rest if is_last else 0
        cuts.append(
            Cut.objects.create(
                piece=piece,
                along=words.CutAlong.AREA,
                before=left,
                part=part,
                scrap=scrap,
                left=left - part - scrap,
                made=kept if is_last else None,
                task=mark.wish.task,
                wish=mark.wish,
                mark=mark,
                is_frame=mark.wish.is_frame,
                heat_lot=piece.heat_lot or ("" if piece.has_heat else "none"),
                waived_why=one_line(waive, field="waive", label="Reason", most=160),
                person=by,
                at=at or now,
                client_id=f"{client_id[:58]}-{number}",
            )
        )
        left -= part + scrap
    piece.reservations.filter(released_at=None).update(released_at=at or now)
    piece.retired_at = at or now
    piece.retired_why = f"cut up by list {cut_list.number}"
    piece.save(update_fields=["retired_at", "retired_why"])
    said = f"{piece.code} cut up: {', '.join(mark.mark for mark in marks)}"
    write_entry(
        kind=words.EntryKind.CUT,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        text=f"{said}; drop {kept.code}" if kept else said,
        before={
            "piece": piece.pk,
            "cuts": [cut.pk for cut in cuts],
            "retired_piece": piece.pk,
            **({"added": kept.pk} if kept else {}),
        },
    )
    return piece


def _drawn(cut_list: CutList, piece: Piece) -> dict[str, Any]:
    for group in cut_list.answer.get("sheet_groups", []):
        for sheet in group["sheets"]:
            if sheet["piece"] == piece.code:
                found: dict[str, Any] = sheet
                return found
    raise Clash(f"{cut_list} draws nothing on {piece.code}.")
