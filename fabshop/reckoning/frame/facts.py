"""What is known of a frame: nodes, and tubes between them. All in millimetres."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from fabshop.reckoning.frame.vector import Vector

EndKind = Literal["through", "coped", "plate"]


@dataclass(frozen=True)
class EndFact:
    """How one end of a tube is made.

    `through`: cut square; it runs past the node by `past_mm`, or where that is None
    as far as what lands on it needs. `coped`: onto the tube `onto`, its centreline
    moved by `offset_mm` towards its own 90 mark. `plate`: onto something that is no
    tube. `typed_deg` is an angle that somebody measured or read, to be held against
    the frame's own.
    """

    kind: EndKind = "through"
    onto: str = ""
    offset_mm: float = 0.0
    past_mm: float | None = None
    typed_deg: float | None = None
    joint: str = ""


@dataclass(frozen=True)
class BendFact:
    """The tube turns at `node`, where its straights would meet, on a centreline arc."""

    node: str
    radius_mm: float


@dataclass(frozen=True)
class TubeFact:
    """A round tube from node to node; density in g/cm3, None where nobody knows."""

    mark: str
    start: str
    end: str
    od_mm: float
    wall_mm: float
    ends: tuple[EndFact, EndFact] = (EndFact(), EndFact())
    bends: tuple[BendFact, ...] = ()
    material: str = ""
    density: float | None = None
    twin: str = ""

    @property
    def section(self) -> str:
        return f"{self.od_mm:g}×{self.wall_mm:g}"

    @property
    def nodes(self) -> tuple[str, ...]:
        return (self.start, *(bend.node for bend in self.bends), self.end)


@dataclass(frozen=True)
class FrameFacts:
    """Nodes by their code, and the tubes between them.

    `mirror` is the axis whose sign a mirrored pair differs in: y points to the left.
    """

    nodes: dict[str, Vector]
    tubes: tuple[TubeFact, ...]
    mirror: Literal["x", "y", "z"] = "y"
    tube_by_mark: dict[str, TubeFact] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        by_mark = {tube.mark: tube for tube in self.tubes}
        object.__setattr__(self, "tube_by_mark", by_mark)
