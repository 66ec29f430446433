"""Moments along the hands-on windows: when work begun here ends, or must begin."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from datetime import datetime, timedelta
from itertools import accumulate

from fabshop.reckoning.facts import Span

_MINUTE = timedelta(minutes=1)


class Bench:
    """Hands-on windows laid end to end from `start` on, ordered and merged.

    What is asked past the last window is answered with None: no hours are entered
    for it, so nobody knows.
    """

    def __init__(self, windows: Iterable[Span], start: datetime) -> None:
        self.spans = _merged(windows, start)
        self._starts = [span.start for span in self.spans]
        lengths = ((span.end - span.start) // _MINUTE for span in self.spans)
        self._marks = [0, *accumulate(lengths)]

    @property
    def minutes(self) -> int:
        """All the hands-on minutes there are."""
        return self._marks[-1]

    def open_at(self, at: datetime) -> Span | None:
        """The window that is open at this moment, if one is."""
        index = bisect_right(self._starts, at) - 1
        if index >= 0 and at < self.spans[index].end:
            return self.spans[index]
        return None

    def next_start(self, at: datetime) -> datetime | None:
        """The first moment from `at` on when hands are available."""
        index = max(bisect_right(self._starts, at) - 1, 0)
        for span in self.spans[index:]:
            if at < span.end:
                return max(at, span.start)
        return None

    def minutes_until(self, at: datetime) -> int:
        """The hands-on minutes that lie before this moment."""
        index = bisect_right(self._starts, at) - 1
        if index < 0:
            return 0
        span = self.spans[index]
        return self._marks[index] + (min(at, span.end) - span.start) // _MINUTE

    def end_of(self, start: datetime, minutes: int) -> datetime | None:
        """When work of so many minutes ends that begins at `start` at the earliest."""
        if minutes <= 0:
            return start
        position = self.minutes_until(start) + minutes
        if position > self.minutes:
            return None
        index = next(n for n, mark in enumerate(self._marks) if mark >= position) - 1
        return self.spans[index].start + (position - self._marks[index]) * _MINUTE

    def latest_start(self, end: datetime, minutes: int) -> datetime | None:
        """The last moment at which such work may begin so as to be done by `end`."""
        if minutes <= 0:
            return end
        position = self.minutes_until(end) - minutes
        if position < 0:
            return None
        index = bisect_right(self._marks, position) - 1
        return self.spans[index].start + (position - self._marks[index]) * _MINUTE


def _merged(windows: Iterable[Span], start: datetime) -> tuple[Span, ...]:
    merged: list[Span] = []
    for span in sorted(windows, key=lambda window: window.start):
        if span.end <= start:
            continue
        begin = max(span.start, start)
        if merged and begin <= merged[-1].end:
            end = max(span.end, merged[-1].end)
            merged[-1] = Span(merged[-1].start, end)
        else:
            merged.append(Span(begin, span.end))
    return tuple(merged)
