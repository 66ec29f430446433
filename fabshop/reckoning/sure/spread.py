"""Early, likely and late as a spread: its mean, its variance, and draws from it.

Days of arrival are drawn from the triangle over the three, minutes of work from the
beta spread whose mean is (early + 4 likely + late) / 6.
"""

from __future__ import annotations

import zlib
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Draws = NDArray[np.float64]
_PULL = 4.0
"""How much the likely value weighs against either end."""


@dataclass(frozen=True)
class Triple:
    """The least, the likeliest and the most that something may come to."""

    early: float
    likely: float
    late: float


def pert_mean(triple: Triple) -> float:
    """(early + 4 likely + late) / 6."""
    return (triple.early + _PULL * triple.likely + triple.late) / (_PULL + 2)


def pert_variance(triple: Triple) -> float:
    """((late - early) / 6) squared, as it is reckoned by hand."""
    return ((triple.late - triple.early) / 6) ** 2


def beta_variance(triple: Triple) -> float:
    """The variance of what `work_draws` draws, exactly."""
    mean = pert_mean(triple)
    return (mean - triple.early) * (triple.late - mean) / (_PULL + 3)


def triangle_mean(triple: Triple) -> float:
    """The third part of the three together."""
    return (triple.early + triple.likely + triple.late) / 3


def triangle_variance(triple: Triple) -> float:
    """Of the triangle over the three."""
    a, m, b = triple.early, triple.likely, triple.late
    return (a * a + m * m + b * b - a * m - a * b - m * b) / 18


def arrival_draws(triple: Triple, runs: int, seed: int, name: str) -> Draws:
    """So many draws from the triangle; the same for the same seed and name."""
    if triple.early == triple.late:
        return np.full(runs, float(triple.likely))
    chance = _chance(seed, name)
    return chance.triangular(triple.early, triple.likely, triple.late, runs)


def work_draws(triple: Triple, runs: int, seed: int, name: str) -> Draws:
    """So many draws from the beta spread; the same for the same seed and name."""
    width = triple.late - triple.early
    if not width:
        return np.full(runs, float(triple.likely))
    first = 1 + _PULL * (triple.likely - triple.early) / width
    second = 1 + _PULL * (triple.late - triple.likely) / width
    found: Draws = _chance(seed, name).beta(first, second, runs)
    return triple.early + width * found


def _chance(seed: int, name: str) -> np.random.Generator:
    """A name's own stream: doubts added or taken away leave the others as they are."""
    return np.random.default_rng([seed, zlib.crc32(name.encode())])
