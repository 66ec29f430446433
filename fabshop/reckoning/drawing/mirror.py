"""Whether two drawings are the same part, mirror images of each other, or neither.

Position and turn do not matter. Ways of laying one on the other are proposed by what
survives drawing it otherwise (axes of inertia, middles of holes, farthest corners);
each is then tried on every outline, within the tolerance.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import atan2, cos, floor, hypot, pi, sin, sqrt, tau

from fabshop import words
from fabshop.reckoning.drawing.edge import Point, flat
from fabshop.reckoning.drawing.shape import Shape
from fabshop.reckoning.drawing.width import hull

# Half of what laser cutting itself is off by.
WITHIN_MM = 0.1
_SAMPLES = 1200
_TRIES = 60


def mirror(one: Shape, other: Shape, within: float = WITHIN_MM) -> words.Mirror:
    """How `other` goes with `one`, up to position and turn.

    BOTH where the part is its own mirror image: then it serves on either side.
    Engraving and bends are not compared, only what is cut.
    """
    here, there = _Laid.of(one), _Laid.of(other)
    same = _covers(here, there, within)
    mirrored = _covers(here, there.flipped(), within)
    if same and mirrored:
        return words.Mirror.BOTH
    if same:
        return words.Mirror.SAME
    return words.Mirror.MIRRORED if mirrored else words.Mirror.DIFFERENT


@dataclass(frozen=True)
class _Laid:
    """Flattened outlines about the middle of their lines, and what each measures."""

    paths: tuple[tuple[Point, ...], ...]
    sizes: tuple[tuple[float, float], ...]

    @classmethod
    def of(cls, shape: Shape) -> _Laid:
        paths = [tuple(flat(vertices)) for vertices, _ in shape.outlines]
        length, x, y = _middle(paths)
        moved = [tuple((p[0] - x, p[1] - y) for p in path) for path in paths]
        sizes = [_size(path) for path in moved]
        return cls(tuple(moved), tuple(sizes))

    def flipped(self) -> _Laid:
        return _Laid(
            tuple(tuple((-x, y) for x, y in path) for path in self.paths), self.sizes
        )

    def axis(self) -> tuple[float, float]:
        """The turn of the longer axis of inertia, and by what share it is longer."""
        xx = yy = xy = 0.0
        for a, b in _stretches(self.paths):
            length = hypot(b[0] - a[0], b[1] - a[1])
            # The line's own integrals: ends and middle by Simpson's rule, exact here.
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            for point, weight in ((a, 1), (middle, 4), (b, 1)):
                xx += length * weight * point[0] ** 2 / 6
                yy += length * weight * point[1] ** 2 / 6
                xy += length * weight * point[0] * point[1] / 6
        spread = hypot(xx - yy, 2 * xy)
        return atan2(2 * xy, xx - yy) / 2, spread / (xx + yy or 1.0)

    def marks(self, within: float) -> list[tuple[tuple[float, float], Point]]:
        """Middles of outlines with what they measure, those off the middle only."""
        found = []
        for path, size in zip(self.paths, self.sizes, strict=True):
            _, x, y = _middle([path])
            if hypot(x, y) > 5 * within:
                found.append((size, (x, y)))
        return found

    def corners(self) -> list[Point]:
        return hull(point for path in self.paths for point in path)


def _covers(here: _Laid, there: _Laid, within: float) -> bool:
    if not _alike(here.sizes, there.sizes, within):
        return False
    grid_here, grid_there = _Grid(here.paths, within), _Grid(there.paths, within)
    samples_here, samples_there = _samples(here.paths), _samples(there.paths)
    for turn in _turns(here, there, within):
        for fine in (turn, *_nudged(turn, here, within)):
            if grid_there.holds(samples_here, fine) and grid_here.holds(
                samples_there, -fine
            ):
                return True
    return False


def _alike(
    one: Iterable[tuple[float, float]],
    other: Iterable[tuple[float, float]],
    within: float,
) -> bool:
    """As many outlines, each as long and as large as one over there."""
    ours, theirs = sorted(one), sorted(other)
    return len(ours) == len(theirs) and all(
        abs(a[0] - b[0]) <= 8 * within + 1e-3 * a[0]
        and abs(a[1] - b[1]) <= 2 * within + 1e-3 * a[1]
        for a, b in zip(ours, theirs, strict=True)
    )


def _turns(here: _Laid, there: _Laid, within: float) -> Iterator[float]:
    """Turns that may lay `here` on `there`, each tried once."""
    told: set[int] = set()

    def fresh(turn: float) -> bool:
        key = round((turn % tau) / 1e-4)
        return not (key in told or told.add(key))  # type: ignore[func-returns-value]

    (axis, long), (axis_there, _) = here.axis(), there.axis()
    if long > 1e-3:
        for half in (0.0, pi):
            turn = axis_there - axis + half
            if fresh(turn):
                yield turn
    tries = 0
    for pairs in (_same_marks(here, there, within), _same_corners(here, there, within)):
        for a, b in pairs:
            turn = atan2(b[1], b[0]) - atan2(a[1], a[0])
            if fresh(turn):
                yield turn
                tries += 1
            if tries > _TRIES:
                return
    yield 0.0


def _same_marks(
    here: _Laid, there: _Laid, within: float
) -> Iterator[tuple[Point, Point]]:
    """One outline of the rarest size here with each of that size over there."""
    marks, others = here.marks(within), there.marks(within)
    counts: list[tuple[int, Point, list[Point]]] = []
    for size, point in marks:
        radius = hypot(*point)
        fits = [
            other
            for size_there, other in others
            if abs(size[0] - size_there[0]) <= 8 * within
            and abs(hypot(*other) - radius) <= 2 * within
        ]
        counts.append((len(fits), point, fits))
    if counts:
        _, point, fits = min(counts, key=lambda c: (c[0], -hypot(*c[1])))
        yield from ((point, other) for other in fits)


def _same_corners(
    here: _Laid, there: _Laid, within: float
) -> Iterator[tuple[Point, Point]]:
    """The farthest corner here with each as far away over there."""
    ours, theirs = here.corners(), there.corners()
    if ours and theirs:
        far = max(ours, key=lambda p: hypot(*p))
        for other in theirs:
            if abs(hypot(*other) - hypot(*far)) <= 2 * within:
                yield far, other


def _nudged(turn: float, here: _Laid, within: float) -> list[float]:
    """The turn a little to either side: a landmark is only as sure as the tolerance."""
    reach = max((hypot(*p) for path in here.paths for p in path), default=1.0)
    step = within / max(reach, within)
    return [turn + n * step / 2 for n in (-1, 1, -2, 2, -4, 4)]


class _Grid:
    """Stretches of outlines by the cells they pass, to tell what lies near a point."""

    def __init__(self, paths: Iterable[tuple[Point, ...]], within: float) -> None:
        stretches = list(_stretches(paths))
        reach = max((abs(v) for s in stretches for p in s for v in p), default=1.0)
        self.within = within
        self.cell = max(reach / 60, 4 * within)
        self.cells: dict[tuple[int, int], list[tuple[Point, Point]]] = defaultdict(list)
        for a, b in stretches:
            count = int(hypot(b[0] - a[0], b[1] - a[1]) / self.cell * 2) + 1
            passed = set()
            for n in range(count + 1):
                x = a[0] + (b[0] - a[0]) * n / count
                y = a[1] + (b[1] - a[1]) * n / count
                passed.add((floor(x / self.cell), floor(y / self.cell)))
            for column, row in passed:
                for i in (-1, 0, 1):
                    for j in (-1, 0, 1):
                        self.cells[column + i, row + j].append((a, b))

    def holds(self, points: Iterable[Point], turn: float) -> bool:
        """Whether each point, turned, lies on an outline within the tolerance."""
        c, s = cos(turn), sin(turn)
        return all(self._near(x * c - y * s, x * s + y * c) for x, y in points)

    def _near(self, x: float, y: float) -> bool:
        cell = (floor(x / self.cell), floor(y / self.cell))
        return any(
            _apart(x, y, a, b) <= self.within for a, b in self.cells.get(cell, ())
        )


def _apart(x: float, y: float, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = dx * dx + dy * dy
    t = ((x - a[0]) * dx + (y - a[1]) * dy) / long if long else 0.0
    t = min(1.0, max(0.0, t))
    return hypot(x - a[0] - t * dx, y - a[1] - t * dy)


def _stretches(paths: Iterable[tuple[Point, ...]]) -> Iterator[tuple[Point, Point]]:
    for path in paths:
        yield from zip(path, path[1:], strict=False)


def _middle(paths: Iterable[tuple[Point, ...]]) -> tuple[float, float, float]:
    """How long the lines are, and their middle, which no way of drawing them moves."""
    length = x = y = 0.0
    for a, b in _stretches(paths):
        long = hypot(b[0] - a[0], b[1] - a[1])
        length += long
        x += long * (a[0] + b[0]) / 2
        y += long * (a[1] + b[1]) / 2
    return length, x / (length or 1.0), y / (length or 1.0)


def _size(path: tuple[Point, ...]) -> tuple[float, float]:
    """Length and radius of gyration of an outline: neither turns nor moves with it."""
    length, x, y = _middle([path])
    total = 0.0
    for a, b in zip(path, path[1:], strict=False):
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for point, weight in ((a, 1), (middle, 4), (b, 1)):
            square = (point[0] - x) ** 2 + (point[1] - y) ** 2
            total += hypot(b[0] - a[0], b[1] - a[1]) * weight * square / 6
    return length, sqrt(total / (length or 1.0))


def _samples(paths: Iterable[tuple[Point, ...]]) -> list[Point]:
    """Points along all outlines, so close that nothing slips between, corners too."""
    paths = list(paths)
    length, _, _ = _middle(paths)
    step = max(length / _SAMPLES, 1e-6)
    points: list[Point] = []
    for a, b in _stretches(paths):
        count = int(hypot(b[0] - a[0], b[1] - a[1]) / step) + 1
        for n in range(count):
            points.append(
                (a[0] + (b[0] - a[0]) * n / count, a[1] + (b[1] - a[1]) * n / count)
            )
    return points
