"""An angle as typed, held against the joint's twin and the frame that it is of."""

from __future__ import annotations

from collections.abc import Iterator

from fabshop.errors import NeedsAnswer
from fabshop.reckoning.frame import doubt_about, reckon_frame
from fabshop.records.frame import TubeEnd
from fabshop.records.joint import Joint
from fabshop.snapshot.frame import frame_facts


def ask_about_angle(joint: Joint, twin: Joint | None = None) -> None:
    """Ask where the twin or the frame says another angle: between, or the dial's?"""
    typed = joint.angle_mdeg / 1000
    for known, known_from in _known(joint, twin or joint.twin):
        if doubt := doubt_about(typed, min(known, 180 - known), known_from):
            raise NeedsAnswer(
                f"{joint.code}: {doubt}", field="angle_mdeg", code="angle-or-dial"
            )


def _known(joint: Joint, twin: Joint | None) -> Iterator[tuple[float, str]]:
    if twin is not None:
        yield twin.angle_mdeg / 1000, f"its twin {twin.code}"
    ends = TubeEnd.objects.filter(
        joint=joint.code, tube__frame__build_id=joint.build_id
    )
    end = ends.select_related("tube__frame").first()
    if end is not None:
        frame = end.tube.frame
        landed = reckon_frame(frame_facts(frame)).tube(end.tube.mark)
        if here := landed.ends[end.which - 1].landed:
            yield here.angle_deg, f"the frame {frame.code}"
