"""A frame out of the lines of a drawing: tried first, written when accepted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from fabshop import worker
from fabshop.actions.frame.define import held
from fabshop.actions.frame.node import set_node
from fabshop.actions.frame.tube import MOST_TUBES, EndSaid, set_tube
from fabshop.actions.shop.allowed import require
from fabshop.errors import BadInput, Clash
from fabshop.reckoning.frame.snap import Snapped, snapped, who_runs_through
from fabshop.reckoning.frame.vector import Vector
from fabshop.records.frame import Frame
from fabshop.records.shop import Person

MOST_TOLERANCE_UM = 50_000
READ_LIMIT_S = 20.0

Lines = tuple[tuple[Vector, Vector], ...]


def read_lines(*, by: Person, content: bytes) -> Lines:
    """A DXF's straight lines in millimetres, read in the worker; nothing is kept.

    They stand in the file's own unit; without one, millimetres are taken for granted.
    """
    require(by, "own")
    lines: list[tuple[Vector, Vector]] = worker.run_small(
        "fabshop.reckoning.drawing.read", "lines_of", content, limit_s=READ_LIMIT_S
    )
    return tuple(lines)


@dataclass(frozen=True)
class LinesTaken:
    """What a drawing's lines come to; `is_written` where the frame holds them now."""

    snapped: Snapped
    onto: tuple[tuple[int | None, int | None], ...]
    is_written: bool

    @property
    def marks(self) -> tuple[str, ...]:
        return tuple(f"T{number}" for number in range(1, len(self.onto) + 1))


@transaction.atomic
def take_lines(
    *,
    by: Person,
    frame: Frame,
    lines: Sequence[tuple[Vector, Vector]],
    tolerance_um: int,
    od_um: int,
    wall_um: int,
    now: datetime,
    material: str = "",
    accept: bool = False,
) -> LinesTaken:
    """Draw an empty frame from lines, all of one section; a trial unless `accept`.

    Ends within the tolerance are one node. Who runs through is guessed from the order
    of the drawing and from ends in the middle of others, and is changed tube by tube.
    """
    frame = held(by, frame)
    if frame.tubes.exists() or frame.nodes.exists():
        raise Clash(f"{frame} is drawn already. Begin another frame for the drawing.")
    if not 0 <= tolerance_um <= MOST_TOLERANCE_UM:
        raise BadInput(
            f"Tolerance: {tolerance_um / 1000:g} mm is not 0 to 50 mm.",
            field="tolerance",
        )
    if not lines:
        raise BadInput("There is no line in the drawing.", field="file")
    if len(lines) > MOST_TUBES:
        raise BadInput(
            f"The drawing has {len(lines)} lines; a frame holds {MOST_TUBES}.",
            field="file",
        )
    made = snapped(lines, tolerance_um / 1000)
    onto = who_runs_through(made.nodes, made.lines, max(0.01, tolerance_um / 1000))
    taken = LinesTaken(made, tuple(onto), accept)
    if accept:
        _write(by, frame, taken, od_um, wall_um, material, now)
    return taken


def _write(
    by: Person,
    frame: Frame,
    taken: LinesTaken,
    od_um: int,
    wall_um: int,
    material: str,
    now: datetime,
) -> None:
    for number, (x, y, z) in enumerate(taken.snapped.nodes, start=1):
        set_node(
            by=by,
            frame=frame,
            code=f"N{number}",
            x_um=round(x * 1000),
            y_um=round(y * 1000),
            z_um=round(z * 1000),
            now=now,
        )
    # All first, then what lands on what: a later tube may be landed on by an earlier.
    for landing in (False, True):
        for mark, (start, end), pair in zip(
            taken.marks, taken.snapped.lines, taken.onto, strict=True
        ):
            if landing and pair == (None, None):
                continue
            ends = [
                EndSaid(onto=taken.marks[one] if landing and one is not None else "")
                for one in pair
            ]
            set_tube(
                by=by,
                frame=frame,
                mark=mark,
                start=f"N{start + 1}",
                end=f"N{end + 1}",
                od_um=od_um,
                wall_um=wall_um,
                ends=(ends[0], ends[1]),
                material=material,
                now=now,
            )
