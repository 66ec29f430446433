"""Words for what lies on the rack and how it is cut."""

from __future__ import annotations

from fabshop.words.word import Word, labelled


class PieceForm(Word):
    TUBE = "tube"
    ROD = "rod"
    SHEET = "sheet"
    ROLL = "roll"


class Grain(Word):
    """Which way a sheet's or a blank's grain runs; none where it does not matter."""

    NONE = ""
    LENGTH = "length"
    WIDTH = "width"


class CutAlong(Word):
    """What a cut shortens, or `area` where a sheet is cut up as drawn."""

    LENGTH = "length"
    WIDTH = "width"
    AREA = "area"


labelled(
    (Grain.LENGTH, "along its length"),
    (Grain.WIDTH, "across it"),
)
