"""The tubes of a frame as wishes of the cut list, each with its mark and joints."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from fabshop import words
from fabshop.actions.frame.define import held
from fabshop.actions.stock.wish import add_wish
from fabshop.errors import BadInput, Clash
from fabshop.reckoning.frame import FrameCut, frame_cuts, reckon_frame
from fabshop.records.frame import Frame
from fabshop.records.shop import Person
from fabshop.records.stock import CutWish
from fabshop.snapshot.frame import frame_facts


@transaction.atomic
def wish_frame(*, by: Person, frame: Frame, now: datetime) -> list[CutWish]:
    """Want every tube of a frame cut that is not wanted yet; each is a piece alone.

    Lengths are long point to long point. A tube whose length is not computed is left
    out; one without a material is refused, for a cut list goes by material.
    """
    frame = held(by, frame)
    cuts = frame_cuts(reckon_frame(frame_facts(frame)))
    bare = [cut.mark for cut in cuts if not cut.material]
    if bare:
        raise BadInput(
            f"{', '.join(bare)}: no material is said. The cut list goes by it.",
            field="material",
        )
    codes = [code_of(frame, cut) for cut in cuts]
    known = set(CutWish.objects.filter(code__in=codes).values_list("code", flat=True))
    wanted = [cut for cut in cuts if code_of(frame, cut) not in known]
    if not wanted:
        raise Clash(f"Every tube of {frame} with a length is on the cut list already.")
    return [
        add_wish(
            by=by,
            code=code_of(frame, cut),
            title=f"{frame.name} {cut.mark}: {ends_said(cut)}"[:120],
            material=cut.material,
            form=words.PieceForm.TUBE,
            od_um=round(cut.od_mm * 1000),
            wall_um=round(cut.wall_mm * 1000),
            length_um=round(cut.length_mm * 1000),
            joints=" ".join(end.joint for end in cut.ends if end.joint),
            is_frame=True,
            now=now,
        )
        for cut in wanted
    ]


def code_of(frame: Frame, cut: FrameCut) -> str:
    return f"{frame.code}-{cut.mark}"[:40]


def ends_said(cut: FrameCut) -> str:
    """Both ends as one says them: `46.3° dial 43.7°, square`."""
    said = [
        "square"
        if end.angle_deg is None or end.dial_deg is None
        else f"{end.angle_deg:.1f}° dial {end.dial_deg:.1f}°"
        for end in cut.ends
    ]
    twist = f", twist {cut.twist_deg:.1f}°" if cut.twist_deg else ""
    return ", ".join(said) + twist
