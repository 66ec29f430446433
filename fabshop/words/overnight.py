"""Words for what a run that nobody watched came to."""

from __future__ import annotations

from fabshop.words.word import Word, labelled, stamped


class RunVerdict(Word):
    CAME_OUT = "came-out"
    FAILED = "failed"


labelled((RunVerdict.CAME_OUT, "came out"))
stamped((RunVerdict.FAILED, "hatched"))
