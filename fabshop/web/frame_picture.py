"""Pictures of a frame from a corner above, and of a cope unrolled, in one ink."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt

from fabshop.reckoning.frame import FrameReckoned, TubeReckoned, drawn
from fabshop.reckoning.frame.vector import Vector
from fabshop.reckoning.wrap import Strip

WIDE = 520
MOST_HIGH = 640
EDGE = 34


@dataclass(frozen=True)
class Drawn:
    """A line of the picture with what is written at its middle."""

    mark: str
    path: str
    x: float
    y: float
    width: float


@dataclass(frozen=True)
class FramePicture:
    tubes: tuple[Drawn, ...]
    nodes: tuple[tuple[str, float, float], ...]
    width: int
    height: int


def on_paper(point: Vector) -> tuple[float, float]:
    """Seen along a diagonal from the front right: x runs down right, y up right."""
    x, y, z = point
    return (x + y) / sqrt(2), (x - y - 2 * z) / sqrt(6)


def frame_picture(
    nodes: dict[str, Vector], frame: FrameReckoned
) -> FramePicture | None:
    """The frame drawn to fit a phone; None where there is nothing to draw."""
    lines = [(tube, _line(tube, nodes)) for tube in frame.tubes]
    flat = [at for _, line in lines for at in line]
    flat += [on_paper(point) for point in nodes.values()]
    if not lines:
        return None
    left, right = min(x for x, _ in flat), max(x for x, _ in flat)
    top, bottom = min(y for _, y in flat), max(y for _, y in flat)
    scale = min(
        (WIDE - 2 * EDGE) / max(right - left, 1e-9),
        (MOST_HIGH - 2 * EDGE) / max(bottom - top, 1e-9),
    )

    def placed(at: tuple[float, float]) -> tuple[float, float]:
        x = EDGE + (at[0] - left) * scale
        return round(x, 1), round(EDGE + (at[1] - top) * scale, 1)

    height = round((bottom - top) * scale) + 2 * EDGE
    return FramePicture(
        tuple(_drawn(tube, [placed(at) for at in line], scale) for tube, line in lines),
        tuple((code, *placed(on_paper(at))) for code, at in nodes.items()),
        WIDE,
        height,
    )


def _line(tube: TubeReckoned, nodes: dict[str, Vector]) -> list[tuple[float, float]]:
    if tube.axis is None:
        return [on_paper(nodes[code]) for code in tube.fact.nodes]
    return [on_paper(point) for point in drawn(tube.axis)]


def _drawn(tube: TubeReckoned, line: list[tuple[float, float]], scale: float) -> Drawn:
    middle = len(line) // 2
    (x0, y0), (x1, y1) = line[middle - 1], line[middle]
    width = min(9.0, max(2.5, tube.fact.od_mm * scale / 2))
    return Drawn(
        tube.fact.mark,
        _path(line),
        round((x0 + x1) / 2, 1),
        round((y0 + y1) / 2 + 5, 1),
        round(width, 1),
    )


def _path(points: Iterable[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{x:g} {y:g}" for x, y in points)


@dataclass(frozen=True)
class CopePicture:
    """One end unrolled: the line to cut to, the skin alone, and where the ticks are."""

    cut: str
    skin: str
    ticks: tuple[tuple[int, float], ...]
    width: int
    height: int


def cope_picture(strip: Strip) -> CopePicture:
    """A cope once round from its own 0, the kept side above, as wide as a phone.

    That way round it is what somebody sees who looks at the tube from outside, with
    its other end up.
    """
    template = strip.template
    scale = (WIDE - 2 * EDGE) / template.wrap_mm
    low = strip.shortest_mm
    turns = [strip.turn_deg(at) for at in range(0, 361, 3)]

    most = max(strip.cut_mm(turn) for turn in turns)

    def line(reaches: Iterable[float]) -> str:
        points = (
            (
                round(EDGE + at * 3 / 360 * template.wrap_mm * scale, 1),
                round(2 * EDGE + (most - reach) * scale, 1),
            )
            for at, reach in enumerate(reaches)
        )
        return _path(points)

    return CopePicture(
        line(strip.cut_mm(turn) for turn in turns),
        line(strip.outer_mm(turn) for turn in turns),
        tuple(
            (at, round(EDGE + at / 360 * template.wrap_mm * scale, 1))
            for at in (0, 90, 180, 270, 360)
        ),
        WIDE,
        round((most - low) * scale) + 3 * EDGE,
    )
