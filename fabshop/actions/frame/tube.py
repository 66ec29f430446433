"""Tubes of a frame: drawn, changed, taken out; a doubtful angle is asked about."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from django.db import transaction

from fabshop import words
from fabshop.actions.frame.define import held, told
from fabshop.actions.frame.node import short_code
from fabshop.actions.typed import one_line
from fabshop.errors import BadInput, Clash, NeedsAnswer
from fabshop.reckoning.frame import reckon_frame
from fabshop.records.frame import Bend, Frame, Node, Tube, TubeEnd
from fabshop.records.shop import Person
from fabshop.snapshot.frame import frame_facts
from fabshop.units import show_milli

MOST_OD_UM = 1_000_000
MOST_TUBES = 400
MOST_BENDS = 12


@dataclass(frozen=True)
class EndSaid:
    """What is said of one end. `onto` is a mark, and makes the end a coped one.

    `typed_mdeg` is an angle that was measured; with `is_dial` it is what the notcher
    reads, and is turned into the angle between.
    """

    onto: str = ""
    offset_um: int = 0
    past_um: int | None = None
    typed_mdeg: int | None = None
    is_dial: bool = False
    is_plate: bool = False
    joint: str = ""


@transaction.atomic
def set_tube(
    *,
    by: Person,
    frame: Frame,
    mark: str,
    start: str,
    end: str,
    od_um: int,
    wall_um: int,
    now: datetime,
    ends: tuple[EndSaid, EndSaid] = (EndSaid(), EndSaid()),
    bends: Sequence[tuple[str, int]] = (),
    material: str = "",
    density_kgm3: int | None = None,
    twin: str = "",
    confirm: bool = False,
) -> Tube:
    """Draw a tube, or draw the one of that mark anew.

    What its ends land on must be drawn already. Where a typed angle disagrees with
    what the frame reckons, it asks, unless `confirm` says that it is meant.
    """
    frame = held(by, frame)
    mark = short_code(mark, field="mark", label="Mark")
    _section(od_um, wall_um)
    if density_kgm3 is not None and not 100 <= density_kgm3 <= 25_000:
        raise BadInput(
            f"Density: {show_milli(density_kgm3)} g/cm³ is no metal's. "
            "Titanium has 4.51, steel 7.85.",
            field="density",
        )
    nodes = {node.code: node for node in frame.nodes.all()}
    first, last = _node(nodes, start, "start"), _node(nodes, end, "end")
    if first == last:
        raise BadInput(f"End: {mark} would end where it starts.", field="end")
    tube = frame.tubes.filter(mark=mark).first()
    if tube is None and frame.tubes.count() >= MOST_TUBES:
        raise BadInput(f"A frame holds at most {MOST_TUBES} tubes.", field="mark")
    is_new = tube is None
    tube = tube or Tube(frame=frame, mark=mark)
    tube.start, tube.end, tube.od_um, tube.wall_um = first, last, od_um, wall_um
    tube.material = one_line(material, field="material", label="Material", most=60)
    tube.density_kgm3 = density_kgm3
    tube.save()
    for which, said in enumerate(ends, start=1):
        _set_end(frame, tube, which, said)
    _set_bends(tube, nodes, bends)
    _set_twin(frame, tube, twin)
    if not confirm and any(said.typed_mdeg is not None for said in ends):
        _ask_about_angles(frame, tube)
    told(
        by,
        now,
        frame,
        f"Frame {frame.code}: {'new ' if is_new else ''}tube {mark} "
        f"{show_milli(od_um)}×{show_milli(wall_um)} from {start} to {end}"
        f"{_landings(ends)}.",
    )
    return tube


@transaction.atomic
def remove_tube(*, by: Person, tube: Tube, now: datetime) -> None:
    """Take out a tube that nothing lands on; the log keeps what it was."""
    frame = held(by, tube.frame)
    landing = sorted(tube.landings.values_list("tube__mark", flat=True))
    if landing:
        raise Clash(f"{', '.join(landing)} still land on {tube}. Move them first.")
    text = (
        f"Frame {frame.code}: tube {tube} {show_milli(tube.od_um)}×"
        f"{show_milli(tube.wall_um)} from {tube.start} to {tube.end} taken out."
    )
    tube.delete()
    told(by, now, frame, text)


def _section(od_um: int, wall_um: int) -> None:
    if not 0 < od_um <= MOST_OD_UM:
        raise BadInput(
            f"OD: {show_milli(od_um)} mm is not over 0 and up to 1000 mm.", field="od"
        )
    if not 0 < wall_um * 2 <= od_um:
        raise BadInput(
            f"Wall: {show_milli(wall_um)} mm is not over 0 and up to the radius, "
            f"{show_milli(od_um // 2)} mm.",
            field="wall",
        )


def _node(nodes: dict[str, Node], code: str, field: str) -> Node:
    if code not in nodes:
        raise BadInput(
            f"{field.capitalize()}: there is no node “{code[:20]}” in this frame.",
            field=field,
        )
    return nodes[code]


def _set_end(frame: Frame, tube: Tube, which: int, said: EndSaid) -> None:
    field = ("start", "end")[which - 1]
    kind, onto = words.EndKind.THROUGH, None
    if said.is_plate:
        kind = words.EndKind.PLATE
    elif said.onto:
        kind, onto = words.EndKind.COPED, frame.tubes.filter(mark=said.onto).first()
        if onto is None:
            raise BadInput(
                f"There is no tube “{said.onto[:20]}” in this frame to land on.",
                field=f"{field}_onto",
            )
        if onto == tube:
            raise BadInput(f"{tube} cannot land on itself.", field=f"{field}_onto")
    typed = said.typed_mdeg
    if typed is not None:
        if not 0 < typed < 180_000:
            raise BadInput(
                f"Angle: {show_milli(typed)} is not between 0 and 180 degrees.",
                field=f"{field}_angle",
            )
        typed = abs(90_000 - typed) if said.is_dial else typed
    TubeEnd.objects.update_or_create(
        tube=tube,
        which=which,
        defaults={
            "kind": kind,
            "onto": onto,
            "offset_um": said.offset_um if onto else 0,
            "past_um": None if onto else said.past_um,
            "typed_mdeg": typed if onto else None,
            "joint": one_line(
                said.joint, field=f"{field}_joint", label="Joint", most=40
            ),
        },
    )


def _set_bends(
    tube: Tube, nodes: dict[str, Node], bends: Sequence[tuple[str, int]]
) -> None:
    if len(bends) > MOST_BENDS:
        raise BadInput(
            f"Bends: {len(bends)}; a tube has at most {MOST_BENDS}.", field="bends"
        )
    tube.bends.all().delete()
    for number, (code, radius_um) in enumerate(bends, start=1):
        if radius_um * 2 < tube.od_um:
            raise BadInput(
                f"Bends: a centreline radius of {show_milli(radius_um)} mm is less "
                f"than the tube's own, {show_milli(tube.od_um // 2)} mm.",
                field="bends",
            )
        Bend.objects.create(
            tube=tube,
            number=number,
            node=_node(nodes, code, "bends"),
            radius_um=radius_um,
        )


def _set_twin(frame: Frame, tube: Tube, mark: str) -> None:
    """Twins name each other; who had another one before loses it."""
    twin = None
    if mark:
        twin = frame.tubes.filter(mark=mark).exclude(pk=tube.pk).first()
        if twin is None:
            raise BadInput(
                f"Twin: there is no other tube “{mark[:20]}” in this frame.",
                field="twin",
            )
    Tube.objects.filter(twin=tube).update(twin=None)
    if twin is not None:
        Tube.objects.filter(twin=twin).update(twin=None)
        Tube.objects.filter(pk=twin.pk).update(twin=tube)
    Tube.objects.filter(pk=tube.pk).update(twin=twin)
    tube.twin = twin


def _ask_about_angles(frame: Frame, tube: Tube) -> None:
    reckoned = reckon_frame(frame_facts(frame)).tube(tube.mark)
    for which, end in enumerate(reckoned.ends):
        doubts = [note for note in end.notes if "° was typed" in note]
        if doubts:
            raise NeedsAnswer(
                doubts[0],
                field=f"{('start', 'end')[which]}_angle",
                code="angle-or-dial",
            )


def _landings(ends: tuple[EndSaid, EndSaid]) -> str:
    onto = [end.onto for end in ends if end.onto]
    return f", coped onto {' and '.join(onto)}" if onto else ""


def as_said(end: TubeEnd) -> EndSaid:
    """A kept end as it would be said again."""
    said = EndSaid(
        onto=end.onto.mark if end.onto else "",
        offset_um=end.offset_um,
        past_um=end.past_um,
        typed_mdeg=end.typed_mdeg,
        joint=end.joint,
    )
    return replace(said, is_plate=end.kind == words.EndKind.PLATE)
