"""Worked minutes: the hands-on windows laid end to end, and the clock beside them."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from itertools import accumulate

from fabshop.reckoning.questions.strict import minute_of


@dataclass(frozen=True)
class Piece:
    """Work that ends in (after, upto] is cured from worked minute `at` on.

    With `moves`, `at` holds for an end at `after` and moves along with the end.
    """

    after: int
    upto: int
    at: int
    moves: bool


class Axis:
    """Positions 0..length in worked minutes, clipped by the deadline.

    A position where two windows meet is two moments of the clock: the end of the
    earlier window and the start of the later one.
    """

    def __init__(self, windows: list[tuple[int, int]], deadline: int) -> None:
        self.windows = [
            (start, min(end, deadline)) for start, end in windows if start < deadline
        ]
        self.deadline = deadline
        self.marks = [0, *accumulate(end - start for start, end in self.windows)]
        self._starts = [start for start, _ in self.windows]

    @classmethod
    def of(cls, windows: tuple[tuple[str, str], ...], deadline: str) -> Axis:
        return cls(
            [(minute_of(start), minute_of(end)) for start, end in windows],
            minute_of(deadline),
        )

    @property
    def length(self) -> int:
        return self.marks[-1]

    def start_clock(self, position: int) -> int:
        """The clock when work at this position begins: the later moment."""
        window = min(bisect_right(self.marks, position) - 1, len(self.windows) - 1)
        return self.windows[window][0] + position - self.marks[window]

    def end_clock(self, position: int) -> int:
        """The clock when work that ends at this position is over: the earlier one."""
        window = max(bisect_left(self.marks, position) - 1, 0)
        return self.windows[window][0] + position - self.marks[window]

    def position_from(self, clock: int) -> int:
        """The first position at which the clock has come to `clock`.

        length + 1, which no step can reach, after the end of the last window.
        """
        window = bisect_right(self._starts, clock) - 1
        if window < 0:
            return 0 if self.windows else 1
        start, end = self.windows[window]
        if clock > end and window == len(self.windows) - 1:
            return self.length + 1
        return self.marks[window] + min(clock, end) - start

    def last_position_by(self, clock: int) -> int:
        """The last position whose end is no later than `clock`; -1 where none is."""
        window = bisect_right(self._starts, clock) - 1
        if window < 0:
            return -1
        start, end = self.windows[window]
        return self.marks[window] + min(clock, end) - start

    def cured_from(self, position: int, cure: int) -> int:
        """The first position by which work that ended at `position` has cured."""
        if not cure:
            return position
        return self.position_from(self.end_clock(position) + cure)

    def last_end_before(self, position: int, cure: int) -> int:
        """The last end whose cure is over by work that starts at `position`."""
        if not cure:
            return position
        return self.last_position_by(self.start_clock(position) - cure)

    def last_end(self, cure: int) -> int:
        """The last position at which work may end so as to cure by the deadline."""
        return min(self.length, self.last_position_by(self.deadline - cure))

    def cure_pieces(self, cure: int, last_end: int) -> list[Piece]:
        """`cured_from` over ends 1..last_end, as flat and moving pieces."""
        pieces: list[Piece] = []
        for number, (start, _) in enumerate(self.windows):
            low, high = self.marks[number], min(self.marks[number + 1], last_end)
            here = low
            while here < high:
                clock = start + here + 1 - low + cure
                window = bisect_right(self._starts, clock) - 1
                opens, ends = self.windows[window]
                if clock <= ends:
                    upto = min(high, here + 1 + ends - clock)
                    at = self.marks[window] + clock - 1 - opens
                    pieces.append(Piece(here, upto, at, moves=True))
                else:
                    later = window + 1
                    last = later == len(self.windows)
                    gap_end = self.deadline + cure if last else self._starts[later]
                    upto = min(high, here + 1 + gap_end - 1 - clock)
                    at = self.length + 1 if last else self.marks[later]
                    pieces.append(Piece(here, max(upto, here + 1), at, moves=False))
                here = pieces[-1].upto
        return pieces
