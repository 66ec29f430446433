"""What a frame asks of the saw: each tube with its length, copes, twist and joints."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop.reckoning.frame.reckon import EndReckoned, FrameReckoned


@dataclass(frozen=True)
class CutEnd:
    """How one end is made; without an angle it is cut square."""

    angle_deg: float | None
    dial_deg: float | None
    offset_mm: float
    onto: str
    joint: str


@dataclass(frozen=True)
class FrameCut:
    """One piece to be cut, long point to long point along the centreline."""

    mark: str
    section: str
    od_mm: float
    wall_mm: float
    material: str
    length_mm: float
    ends: tuple[CutEnd, CutEnd]
    twist_deg: float | None


def frame_cuts(frame: FrameReckoned) -> tuple[FrameCut, ...]:
    """The cut list feed by section, longest first; what has no length is left out."""
    cuts = [
        FrameCut(
            tube.fact.mark,
            tube.fact.section,
            tube.fact.od_mm,
            tube.fact.wall_mm,
            tube.fact.material,
            tube.cut_mm,
            (_end(tube.ends[0]), _end(tube.ends[1])),
            tube.twist_deg,
        )
        for tube in frame.tubes
        if tube.cut_mm is not None
    ]
    return tuple(
        sorted(cuts, key=lambda c: (c.material, c.section, -c.length_mm, c.mark))
    )


def _end(end: EndReckoned) -> CutEnd:
    landed = end.landed if end.cope else None
    return CutEnd(
        landed.angle_deg if landed else None,
        landed.dial_deg if landed else None,
        landed.offset_mm if landed else 0.0,
        end.fact.onto,
        end.fact.joint,
    )
