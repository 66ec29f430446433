"""Contradictions of tube frames: across frames, twins, and angles that disagree."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from django.db.models import F, Q

from fabshop.reckoning.frame import mirror_faults, reckon_frame
from fabshop.records.frame import Bend, Frame, Node, Tube, TubeEnd
from fabshop.records.joint import Joint
from fabshop.snapshot.frame import frame_facts


def _tubes_across_frames() -> Iterator[str]:
    """Nodes and landings of one frame's tube that belong to another."""
    astray = Q(start__frame=F("frame")) & Q(end__frame=F("frame"))
    for tube in Tube.objects.exclude(astray).select_related("frame"):
        yield f"Tube {tube} of {tube.frame} ends at a node of another frame."
    ends = TubeEnd.objects.exclude(onto=None).exclude(onto__frame=F("tube__frame"))
    for end in ends.select_related("tube__frame", "onto__frame"):
        yield (
            f"Tube {end.tube} of {end.tube.frame} lands on {end.onto}, which is of "
            "another frame."
        )
    bends = Bend.objects.exclude(node__frame=F("tube__frame"))
    for bend in bends.select_related("tube__frame", "node"):
        yield f"Tube {bend.tube} of {bend.tube.frame} bends at another frame's node."


def _tube_twins_one_sided() -> Iterator[str]:
    for tube in Tube.objects.exclude(twin=None).select_related("twin"):
        if tube.twin is not None and tube.twin.twin_id != tube.pk:
            yield (
                f"Tube {tube} has {tube.twin} for its twin, but not the other way "
                "round."
            )


def _frames_that_disagree() -> Iterator[str]:
    """Twins that are no mirror, and typed angles that the frame denies."""
    for frame in Frame.objects.all():
        codes = set(Node.objects.filter(frame=frame).values_list("code", flat=True))
        facts = frame_facts(frame)
        if any(set(tube.nodes) - codes for tube in facts.tubes):
            # It runs across frames, which is told by its own check.
            continue
        reckoned = reckon_frame(facts)
        for tube in reckoned.tubes:
            for end in tube.ends:
                for note in end.notes:
                    if "° was typed" in note:
                        yield f"{frame}: {note}"
            twin = facts.tube_by_mark.get(tube.fact.twin)
            if twin is not None and tube.fact.mark < twin.mark:
                for fault in mirror_faults(facts, tube, reckoned.tube(twin.mark)):
                    yield f"{frame}: {fault}"


def _joints_that_are_not_there() -> Iterator[str]:
    known = Joint.objects.values("code")
    ends = TubeEnd.objects.exclude(joint="").exclude(joint__in=known)
    for end in ends.select_related("tube__frame"):
        yield (
            f"Tube {end.tube} of {end.tube.frame} names joint {end.joint}, which is "
            "not kept here."
        )


FRAME_CHECKS: dict[str, Callable[[], Iterable[str]]] = {
    "tube-across-frames": _tubes_across_frames,
    "tube-twin-one-sided": _tube_twins_one_sided,
    "frame-disagrees": _frames_that_disagree,
    "frame-joint-unknown": _joints_that_are_not_there,
}
