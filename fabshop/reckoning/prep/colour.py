"""What a weld's colour means: by the shop's table, a published one, or a person."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fabshop import words


@dataclass(frozen=True, slots=True)
class Judged:
    """A verdict and the table it is from; `person` where no table judges it."""

    verdict: words.Verdict
    table: str = ""
    source: str = ""


def judge(
    colour: words.Colour,
    rows: Mapping[words.Colour, words.Verdict],
    *,
    table: str = "",
    source: str = "",
) -> Judged:
    """Judge one colour by these rows; what they do not name is for a person."""
    verdict = rows.get(colour, words.Verdict.PERSON)
    if not rows:
        return Judged(words.Verdict.PERSON)
    return Judged(verdict, table, source)
