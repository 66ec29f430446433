"""The other side of a tube: mirrored across the frame's middle, offsets turned."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from django.db import transaction

from fabshop.actions.frame.define import held, told
from fabshop.actions.frame.node import set_node, short_code
from fabshop.actions.frame.tube import EndSaid, as_said, set_tube
from fabshop.errors import BadInput
from fabshop.records.frame import Frame, Node, Tube
from fabshop.records.shop import Person


@transaction.atomic
def mirror_tube(*, by: Person, tube: Tube, mark: str, now: datetime) -> Tube:
    """Draw the twin of a tube across the frame's mirror, with nodes where none are.

    It lands on the twins of what the tube lands on, or on the same tube where that
    lies across the middle. Its offsets are turned round, and so is its twist.
    """
    frame = held(by, tube.frame)
    mark = short_code(mark, field="mark", label="Mark of the twin")
    if frame.tubes.filter(mark=mark).exclude(twin=tube).exists():
        raise BadInput(f"There is a tube {mark} already.", field="mark")
    known = {end.which: end for end in tube.ends.select_related("onto__twin")}
    ends = [as_said(known[which]) if which in known else EndSaid() for which in (1, 2)]
    made = []
    for said in ends:
        onto = frame.tubes.select_related("twin").filter(mark=said.onto).first()
        landed = onto.twin if onto and onto.twin else onto
        made.append(
            replace(
                said,
                onto=landed.mark if landed else "",
                offset_um=-said.offset_um,
                typed_mdeg=None,
                joint="",
            )
        )
    bends = [
        (_opposite(by, frame, bend.node, now).code, bend.radius_um)
        for bend in tube.bends.select_related("node")
    ]
    start = _opposite(by, frame, tube.start, now)
    end = _opposite(by, frame, tube.end, now)
    if (start, end) == (tube.start, tube.end):
        raise BadInput(
            f"{tube} lies in the middle and is its own mirror.", field="mark"
        )
    twin = set_tube(
        by=by,
        frame=frame,
        mark=mark,
        start=start.code,
        end=end.code,
        od_um=tube.od_um,
        wall_um=tube.wall_um,
        ends=(made[0], made[1]),
        bends=bends,
        material=tube.material,
        density_kgm3=tube.density_kgm3,
        twin=tube.mark,
        now=now,
    )
    told(by, now, frame, f"Frame {frame.code}: {mark} mirrors {tube.mark}.")
    return twin


def _opposite(by: Person, frame: Frame, node: Node, now: datetime) -> Node:
    """The node across the mirror; the same one where it lies in the middle."""
    axis = f"{frame.mirror}_um"
    place = {name: getattr(node, name) for name in ("x_um", "y_um", "z_um")}
    if place[axis] == 0:
        return node
    place[axis] = -place[axis]
    there = frame.nodes.filter(**place).first()
    if there is not None:
        return there
    code = f"{node.code}-m"
    return set_node(by=by, frame=frame, code=code, **place, now=now)
