"""Nodes of a frame: placed, moved, and taken out where nothing ends on them."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.db.models import Q

from fabshop.actions.frame.define import held, told
from fabshop.actions.typed import code as typed_code
from fabshop.errors import BadInput, Clash
from fabshop.records.frame import Bend, Frame, Node, Tube
from fabshop.records.shop import Person
from fabshop.units import show_milli

# Twenty metres: past it, somebody typed micrometres.
FARTHEST_UM = 20_000_000
MOST_CODE = 20


@transaction.atomic
def set_node(
    *,
    by: Person,
    frame: Frame,
    code: str,
    x_um: int,
    y_um: int,
    z_um: int,
    now: datetime,
) -> Node:
    """Place a node, or move the one of that code; two never stand in one place."""
    frame = held(by, frame)
    code = short_code(code, field="code", label="Node")
    place = {"x_um": x_um, "y_um": y_um, "z_um": z_um}
    for name, value in place.items():
        if abs(value) > FARTHEST_UM:
            raise BadInput(
                f"{name[0]}: {show_milli(value)} mm is farther than 20 m from the "
                "middle of the frame.",
                field=name[0],
            )
    there = frame.nodes.filter(**place).exclude(code=code).first()
    if there is not None:
        raise Clash(
            f"Node {there} is in that place already. Use it instead.", field="code"
        )
    node = frame.nodes.filter(code=code).first()
    said = ", ".join(show_milli(value) for value in place.values())
    if node is None:
        node = Node.objects.create(frame=frame, code=code, **place)
        told(by, now, frame, f"Frame {frame.code}: node {code} at {said}.")
    elif (node.x_um, node.y_um, node.z_um) != (x_um, y_um, z_um):
        was = ", ".join(show_milli(v) for v in (node.x_um, node.y_um, node.z_um))
        node.x_um, node.y_um, node.z_um = x_um, y_um, z_um
        node.save(update_fields=["x_um", "y_um", "z_um"])
        text = f"Frame {frame.code}: node {code} moved from {was} to {said}."
        told(by, now, frame, text)
    return node


@transaction.atomic
def remove_node(*, by: Person, node: Node, now: datetime) -> None:
    """Take out a node that no tube needs; the log keeps where it was."""
    frame = held(by, node.frame)
    tubes = Tube.objects.filter(Q(start=node) | Q(end=node))
    bent = Bend.objects.filter(node=node).values_list("tube__mark", flat=True)
    marks = sorted({*tubes.values_list("mark", flat=True), *bent})
    if marks:
        raise Clash(f"{', '.join(marks)} still end or bend at node {node}.")
    was = ", ".join(show_milli(v) for v in (node.x_um, node.y_um, node.z_um))
    node.delete()
    told(by, now, frame, f"Frame {frame.code}: node {node} taken out, was at {was}.")


def short_code(text: str, *, field: str, label: str) -> str:
    """A node's code or a tube's mark: fit for addresses, and short enough to scribe."""
    code = typed_code(text, field=field, label=label)
    if code == "new":
        # Its page would be that of another one.
        raise BadInput(f"{label}: “new” is taken. Call it otherwise.", field=field)
    if len(code) > MOST_CODE:
        raise BadInput(
            f"{label}: {len(code)} characters; at most {MOST_CODE} fit.", field=field
        )
    return code
