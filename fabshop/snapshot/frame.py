"""A frame as the facts that its reckoning takes, in a fixed number of queries."""

from __future__ import annotations

from fabshop import words
from fabshop.reckoning.frame import BendFact, EndFact, FrameFacts, TubeFact
from fabshop.reckoning.frame.facts import EndKind
from fabshop.records.frame import Frame, Tube, TubeEnd
from fabshop.reference.material import materials

_KINDS: dict[str, EndKind] = {
    words.EndKind.THROUGH: "through",
    words.EndKind.COPED: "coped",
    words.EndKind.PLATE: "plate",
}


def frame_facts(frame: Frame) -> FrameFacts:
    """Nodes and tubes of one frame, in millimetres."""
    nodes = {
        node.code: (node.x_um / 1000, node.y_um / 1000, node.z_um / 1000)
        for node in frame.nodes.all()
    }
    tubes = frame.tubes.select_related("start", "end", "twin").prefetch_related(
        "ends__onto", "bends__node"
    )
    facts = tuple(_tube(tube) for tube in tubes)
    if frame.mirror == "x":
        return FrameFacts(nodes, facts, "x")
    if frame.mirror == "z":
        return FrameFacts(nodes, facts, "z")
    return FrameFacts(nodes, facts)


def _tube(tube: Tube) -> TubeFact:
    ends = {end.which: _end(end) for end in tube.ends.all()}
    return TubeFact(
        mark=tube.mark,
        start=tube.start.code,
        end=tube.end.code,
        od_mm=tube.od_um / 1000,
        wall_mm=tube.wall_um / 1000,
        ends=(ends.get(1, EndFact()), ends.get(2, EndFact())),
        bends=tuple(
            BendFact(bend.node.code, bend.radius_um / 1000) for bend in tube.bends.all()
        ),
        material=tube.material,
        density=_density(tube),
        twin=tube.twin.mark if tube.twin else "",
    )


def _density(tube: Tube) -> float | None:
    """In g/cm3, as typed, else as published for its material; None where unknown."""
    if tube.density_kgm3 is not None:
        return tube.density_kgm3 / 1000
    known = materials().get(tube.material)
    return known.density_mg_cm3 / 1000 if known else None


def _end(end: TubeEnd) -> EndFact:
    return EndFact(
        kind=_KINDS[end.kind],
        onto=end.onto.mark if end.onto else "",
        offset_mm=end.offset_um / 1000,
        past_mm=None if end.past_um is None else end.past_um / 1000,
        typed_deg=None if end.typed_mdeg is None else end.typed_mdeg / 1000,
        joint=end.joint,
    )
