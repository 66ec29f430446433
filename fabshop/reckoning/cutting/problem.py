"""The cut list question in whole numbers, with what is alike taken together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from math import ceil, floor, gcd

from fabshop.reckoning.questions.cutlist import CutlistQuestion

# Of a micrometre: what floating point may be off without meaning anything.
_NOISE = 1e-4
_COST_PARTS = 1_000_000


@dataclass(frozen=True)
class Kind:
    """Stock of one length and one cost; `cap` is what it holds, in problem units."""

    length_um: int
    cap: int
    cost: int
    count: int
    ids: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class Sort:
    """Pieces of one length; `weight` is the length and its kerf, in problem units."""

    length_um: int
    weight: int
    count: int
    ids: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class Problem:
    """Longest pieces first. n pieces fit when their weights are within the cap.

    A piece of length l weighs l + kerf, a bar of length L holds L - trim + kerf: the
    same as n - 1 kerfs between n pieces. Weights and caps are in units of `unit_um`.
    """

    kinds: tuple[Kind, ...]
    sorts: tuple[Sort, ...]
    too_long: tuple[Sort, ...]
    unit_um: int
    kerf_um: int
    trim_um: int
    longest_um: int
    """The longest piece that any stock of the question could give."""

    @property
    def wanted(self) -> int:
        return sum(sort.count for sort in self.sorts)

    def left_um(self, kind: int, load: int) -> int:
        """What remains of a bar that carries so many units, kerfs and trim gone."""
        spare = self.kinds[kind].length_um - self.trim_um - load * self.unit_um
        return max(0, spare)


@dataclass(frozen=True)
class Bar:
    """One length of stock, and how many of each sort are cut from it."""

    kind: int
    counts: tuple[int, ...]

    def load(self, problem: Problem) -> int:
        """Pieces and kerfs, in problem units."""
        return sum(
            n * sort.weight for n, sort in zip(self.counts, problem.sorts, strict=True)
        )


Plan = tuple[Bar, ...]


def at_least_um(mm: float) -> int:
    """Micrometres, a broken one counted whole: for what must fit."""
    return ceil(mm * 1000 - _NOISE)


def at_most_um(mm: float) -> int:
    """Micrometres, a broken one left away: for what it must fit into."""
    return floor(mm * 1000 + _NOISE)


def problem_of(question: CutlistQuestion) -> Problem:
    """The question compiled. Broken micrometres are rounded to the safe side."""
    kerf, trim = at_least_um(question.kerf), at_least_um(question.end_trim)
    by_length: dict[int, list[tuple[str, int]]] = {}
    for piece in question.pieces:
        length = at_least_um(piece.length)
        by_length.setdefault(length, []).append((piece.id, piece.count))
    longest = max(
        (at_most_um(stock.length) - trim for stock in question.stock), default=0
    )
    unit = reduce(gcd, (length + kerf for length in by_length if length <= longest), 0)
    unit = unit or 1
    every = [
        Sort(length, (length + kerf) // unit, sum(n for _, n in ids), tuple(ids))
        for length, ids in sorted(by_length.items(), reverse=True)
    ]
    sorts = tuple(sort for sort in every if sort.length_um <= longest)
    return Problem(
        kinds=_kinds(question, sorts, unit, kerf, trim),
        sorts=sorts,
        too_long=tuple(sort for sort in every if sort.length_um > longest),
        unit_um=unit,
        kerf_um=kerf,
        trim_um=trim,
        longest_um=max(0, longest),
    )


def _kinds(
    question: CutlistQuestion, sorts: Sequence[Sort], unit: int, kerf: int, trim: int
) -> tuple[Kind, ...]:
    wanted = sum(sort.count for sort in sorts)
    shortest = min((sort.length_um for sort in sorts), default=0)
    alike: dict[tuple[int, int], list[tuple[str, int]]] = {}
    for stock in question.stock:
        length = at_most_um(stock.length)
        if length - trim >= shortest and wanted:
            cost = round(stock.cost * _COST_PARTS)
            count = wanted if stock.count is None else min(stock.count, wanted)
            alike.setdefault((length, cost), []).append((stock.id, count))
    common = reduce(gcd, (cost for _, cost in alike), 0) or 1
    return tuple(
        Kind(
            length_um=length,
            # Loads are whole units, so what is over a whole unit holds nothing.
            cap=(length - trim + kerf) // unit,
            cost=cost // common,
            count=min(wanted, sum(n for _, n in ids)),
            ids=tuple(ids),
        )
        for (length, cost), ids in sorted(alike.items())
    )
