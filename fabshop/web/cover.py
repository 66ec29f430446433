"""Lays out the picture of what lies under what: outermost on top, lines going down."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

BOX_WIDTH = 50
BOX_HEIGHT = 32
GAP = 11
ROW_GAP = 26
A_ROW = 6  # as many boxes as stand side by side on a phone 390 px wide
MOST_DRAWN = 120  # beyond that lines hide each other, and the text says it better


@dataclass(frozen=True, slots=True)
class Place:
    """One component as the picture needs it."""

    code: str
    name: str
    state: str
    is_on: bool


@dataclass(frozen=True, slots=True)
class Box:
    place: Place
    x: int
    y: int

    @property
    def middle(self) -> int:
        return self.x + BOX_WIDTH // 2

    @property
    def text_y(self) -> int:
        return self.y + BOX_HEIGHT // 2 + 5

    @property
    def foot(self) -> int:
        return self.y + BOX_HEIGHT


@dataclass(frozen=True, slots=True)
class Line:
    """From the foot of what covers to the head of what lies under it."""

    path: str


@dataclass(frozen=True, slots=True)
class Picture:
    boxes: tuple[Box, ...]
    lines: tuple[Line, ...]
    free: tuple[str, ...]
    width: int
    height: int

    box_width = BOX_WIDTH
    box_height = BOX_HEIGHT


def picture_of(
    places: Iterable[Place], covers: Mapping[str, Iterable[str]]
) -> Picture | None:
    """Draw `places`; `covers` maps each to the codes that lie over it, any route.

    What nothing covers and what covers nothing is not drawn but listed in `free`.
    None where there is nothing to draw, or too much to be read.
    """
    known = {place.code: place for place in places}
    over = {
        code: {c for c in covers.get(code, ()) if c in known and c != code}
        for code in known
    }
    linked = {code for code in known if over[code]}
    linked |= {cover for code in linked for cover in over[code]}
    free = tuple(sorted(set(known) - linked))
    if not linked or len(linked) > MOST_DRAWN:
        return None
    depth = _depths(linked, over)
    boxes = _placed(linked, over, depth, known)
    lines = tuple(
        _line(boxes[cover], boxes[code])
        for code in sorted(linked)
        for cover in sorted(_direct(over[code], over))
    )
    height = max(box.foot for box in boxes.values()) + 2
    width = A_ROW * (BOX_WIDTH + GAP) - GAP + 2
    return Picture(tuple(boxes.values()), lines, free, width, height)


def _depths(codes: set[str], over: Mapping[str, set[str]]) -> dict[str, int]:
    """How many layers lie over each; a loop (refused elsewhere) ends in itself."""
    depth: dict[str, int] = {}
    left = set(codes)
    while left:
        layer = {code for code in left if not (over[code] & left)} or set(left)
        for code in layer:
            depth[code] = 1 + max(
                (depth[c] for c in over[code] if c in depth), default=-1
            )
        left -= layer
    return depth


def _placed(
    codes: set[str],
    over: Mapping[str, set[str]],
    depth: Mapping[str, int],
    known: Mapping[str, Place],
) -> dict[str, Box]:
    boxes: dict[str, Box] = {}
    y = 1
    for layer in range(max(depth.values()) + 1):
        row = [code for code in codes if depth[code] == layer]
        # Under the middle of what covers it, so that few lines cross.
        row.sort(key=lambda code: (_middle(code, over, boxes), code))
        for start in range(0, len(row), A_ROW):
            part = row[start : start + A_ROW]
            width = len(part) * (BOX_WIDTH + GAP) - GAP
            x = 1 + (A_ROW * (BOX_WIDTH + GAP) - GAP - width) // 2
            for code in part:
                boxes[code] = Box(known[code], x, y)
                x += BOX_WIDTH + GAP
            y += BOX_HEIGHT + ROW_GAP
    return boxes


def _middle(code: str, over: Mapping[str, set[str]], boxes: Mapping[str, Box]) -> float:
    middles = [boxes[cover].middle for cover in over[code] if cover in boxes]
    return sum(middles) / len(middles) if middles else 0.0


def _direct(covers: set[str], over: Mapping[str, set[str]]) -> set[str]:
    """Leave out a line that longer ones already say: what covers a cover."""
    implied: set[str] = set()
    left = [(cover, c) for cover in covers for c in over[cover]]
    seen: set[str] = set()
    while left:
        cover, above = left.pop()
        if above in seen:
            continue
        seen.add(above)
        implied.add(above)
        left.extend((above, c) for c in over[above])
    return covers - implied


def _line(cover: Box, under: Box) -> Line:
    bend = max(ROW_GAP // 2, (under.y - cover.foot) // 2)
    return Line(
        f"M{cover.middle} {cover.foot}"
        f"C{cover.middle} {cover.foot + bend} "
        f"{under.middle} {under.y - bend} {under.middle} {under.y}"
    )
