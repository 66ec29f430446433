"""Time on the clock: what people's spans cover together, two at once counted once."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta


def elapsed_minutes(ended: Iterable[tuple[datetime, int]]) -> int:
    """Minutes in which somebody was at it; each span is its end and its minutes.

    The sum of the minutes is people's hours; this never is more than that.
    """
    spans = sorted((end - timedelta(minutes=minutes), end) for end, minutes in ended)
    covered, until = timedelta(0), None
    for begin, end in spans:
        if until is None or begin > until:
            covered, until = covered + (end - begin), end
        elif end > until:
            covered, until = covered + (end - until), end
    return round(covered / timedelta(minutes=1))
