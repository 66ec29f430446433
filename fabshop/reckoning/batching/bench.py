"""The bench is one: hours that another build's accepted teardown has are not free."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from fabshop.reckoning.facts import Span


@dataclass(frozen=True)
class Taken:
    """A stretch that is planned for already, and `whose` it is, for the note."""

    span: Span
    whose: str


def less_taken(windows: Iterable[Span], taken: Iterable[Taken]) -> list[Span]:
    """What is left of the windows, in order."""
    free = list(windows)
    for each in taken:
        free = [part for span in free for part in _without(span, each.span)]
    return free


def _without(span: Span, gone: Span) -> list[Span]:
    if gone.end <= span.start or span.end <= gone.start:
        return [span]
    parts = []
    if span.start < gone.start:
        parts.append(Span(span.start, gone.start))
    if gone.end < span.end:
        parts.append(Span(gone.end, span.end))
    return parts
