"""Words for how a tube's end is made."""

from __future__ import annotations

from fabshop.words.word import Word, labelled


class EndKind(Word):
    THROUGH = "through"
    COPED = "coped"
    PLATE = "plate"


labelled(
    (EndKind.THROUGH, "runs through"),
    (EndKind.COPED, "coped onto"),
    (EndKind.PLATE, "onto no tube"),
)
