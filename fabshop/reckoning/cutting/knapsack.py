"""The most worth that fits one bar, for every length of bar at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from fabshop.reckoning.cutting.problem import Problem

MOST_CELLS = 30_000
"""Finer lengths are told apart no more than this; the bounds stay true bounds."""

Row = npt.NDArray[np.int64]


@dataclass(frozen=True)
class Grid:
    """Weights and caps in cells: `light` never more, `heavy` never less than true."""

    caps: tuple[int, ...]
    light: tuple[int, ...]
    heavy: tuple[int, ...]
    counts: tuple[int, ...]

    @property
    def is_exact(self) -> bool:
        return self.light == self.heavy


def grid_of(problem: Problem) -> Grid:
    """Exact where the longest bar has few enough units, else coarser."""
    most = max((kind.cap for kind in problem.kinds), default=0)
    cell = 1 + most // MOST_CELLS
    return Grid(
        caps=tuple(kind.cap // cell for kind in problem.kinds),
        light=tuple(sort.weight // cell for sort in problem.sorts),
        heavy=tuple(-(-sort.weight // cell) for sort in problem.sorts),
        counts=tuple(sort.count for sort in problem.sorts),
    )


class Knapsack:
    """`worth` is whole and not negative, so that nothing is lost in rounding."""

    def __init__(
        self,
        weights: Sequence[int],
        counts: Sequence[int],
        worth: Sequence[int],
        most: int,
    ) -> None:
        self.weights, self.worth = weights, worth
        self.counts = counts
        row = np.zeros(most + 1, dtype=np.int64)
        # rows[i][c]: the most worth of the sorts from i on within c cells.
        self.rows: list[Row] = [row]
        for weight, count, value in reversed(
            list(zip(weights, counts, worth, strict=True))
        ):
            row = _with(row, weight, count, value, most)
            self.rows.append(row)
        self.rows.reverse()

    def most(self, cap: int) -> int:
        """The most worth within so many cells."""
        return int(self.rows[0][cap])

    def pattern(self, cap: int) -> tuple[int, ...]:
        """One way to reach it."""
        counts = []
        for index, weight in enumerate(self.weights):
            count, after = 0, self.rows[index + 1]
            target = int(self.rows[index][cap])
            while int(after[cap]) + count * self.worth[index] != target:
                count += 1
                cap -= weight
            counts.append(count)
        return tuple(counts)

    def patterns(self, cap: int, least: int, most: int) -> list[tuple[int, ...]] | None:
        """Every pattern worth at least so much; None when there are more than `most`.

        The rows say beforehand which beginnings can still reach it: no dead ends.
        """
        found: list[tuple[int, ...]] = []
        begun: list[tuple[tuple[int, ...], int, int]] = [((), cap, 0)]
        while begun:
            counts, room, worth = begun.pop()
            index = len(counts)
            if index == len(self.weights):
                found.append(counts)
                if len(found) > most:
                    return None
                continue
            weight, value = self.weights[index], self.worth[index]
            after = self.rows[index + 1]
            count = 0
            while count <= self.counts[index] and room >= 0:
                if worth + int(after[room]) >= least:
                    begun.append(((*counts, count), room, worth))
                count, room, worth = count + 1, room - weight, worth + value
        return found


def _with(row: Row, weight: int, count: int, value: int, most: int) -> Row:
    if weight > most or value == 0:
        return row
    count = min(count, most // weight) if weight else count
    part = 1
    while count > 0:
        # Bundles of 1, 2, 4 ... give every number up to the count.
        part = min(part, count)
        shift, gain = part * weight, part * value
        if shift <= most:
            better = row.copy()
            np.maximum(row[shift:], row[: most + 1 - shift] + gain, out=better[shift:])
            row = better
        count, part = count - part, part * 2
    return row
