"""Worked minutes of many runs at once; past the last window hours go on, much later.

What ends in those never ends in the hours entered, and is late by any deadline.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from fabshop.reckoning.schedule.problem import Windows

Whole = NDArray[np.int64]
NEVER = 1 << 40
"""No hours entered reach this minute."""


class Hours:
    """Positions along the windows of one axis, as `Axis` has them, for arrays."""

    def __init__(self, windows: Windows | None) -> None:
        spans = [(0, 2 * NEVER)] if windows is None else [*windows, (NEVER, 2 * NEVER)]
        self.starts: Whole = np.array([start for start, _ in spans], dtype=np.int64)
        self.ends: Whole = np.array([end for _, end in spans], dtype=np.int64)
        self.marks: Whole = np.concatenate(
            [np.zeros(1, dtype=np.int64), np.cumsum(self.ends - self.starts)]
        )

    def position_from(self, clock: Whole) -> Whole:
        """The first position at which the clock has come to `clock`."""
        window = np.searchsorted(self.starts, clock, side="right") - 1
        inside = np.maximum(window, 0)
        position = self.marks[inside] + np.minimum(clock, self.ends[inside])
        found: Whole = np.where(window < 0, 0, position - self.starts[inside])
        return found

    def start_clock(self, position: Whole) -> Whole:
        """The clock when work at this position begins: the later moment."""
        window = np.searchsorted(self.marks, position, side="right") - 1
        found: Whole = self.starts[window] + position - self.marks[window]
        return found

    def end_clock(self, position: Whole) -> Whole:
        """The clock when work that ends at this position is over: the earlier one."""
        window = np.maximum(np.searchsorted(self.marks, position, side="left") - 1, 0)
        found: Whole = self.starts[window] + position - self.marks[window]
        return found

    def in_one_window(self, position: Whole, minutes: Whole) -> Whole:
        """The first position from here on where so many minutes are unbroken."""
        found = position.copy()
        while True:
            window = np.searchsorted(self.marks, found, side="right") - 1
            short = self.marks[window + 1] - found < minutes
            if not short.any():
                return found
            found[short] = self.marks[window + 1][short]
