"""Words for what is used up: consumables and the screws and nuts in their trays."""

from __future__ import annotations

from fabshop.words.word import Word, labelled, stamped


class ShelfUnit(Word):
    PIECE = "pc"
    GRAM = "g"
    MILLILITRE = "ml"
    METRE = "m"
    CAN = "can"
    SET = "set"
    BAR = "bar"


class TrayKind(Word):
    """What lies in a tray; a nut and a tie are used once."""

    SCREW = "screw"
    NUT = "nut"
    TIE = "tie"
    OTHER = "other"


class MoveKind(Word):
    """Why a count on the shelf moved; it is never set to a figure."""

    CAME = "came"
    USED = "used"
    COUNTED = "counted"
    LOST = "lost"
    BACK = "back"
    THROWN = "thrown-away"


class Hazard(Word):
    """What a consumable can do to somebody; its caution has the same name."""

    NONE = ""
    RESIN = "resin"
    SOLVENT = "solvent"
    PICKLE = "pickle"
    PAINT = "paint"
    ARGON = "argon"
    LITHIUM = "cells"


class Keeps(Word):
    """How the last good day of a consumable lies to the day of its use."""

    GOOD = "good"
    UNKNOWN = "unknown"
    LASTING = "lasting"
    GONE_OFF = "gone-off"
    GOES_OFF_FIRST = "goes-off-first"


labelled(
    (ShelfUnit.PIECE, "pc"),
    (MoveKind.CAME, "came in"),
    (MoveKind.COUNTED, "counted up"),
    (MoveKind.LOST, "missing from a bag"),
    (MoveKind.BACK, "put back"),
    (MoveKind.THROWN, "thrown away"),
    (Hazard.RESIN, "resin or adhesive"),
    (Hazard.PICKLE, "pickling paste"),
    (Hazard.PAINT, "paint"),
    (Hazard.LITHIUM, "lithium cells"),
    (Keeps.UNKNOWN, "date unknown"),
    (Keeps.LASTING, "does not go off"),
    (Keeps.GONE_OFF, "gone off"),
    (Keeps.GOES_OFF_FIRST, "goes off before"),
)

stamped(
    (Keeps.UNKNOWN, "dashed"),
    (Keeps.GONE_OFF, "hatched"),
    (Keeps.GOES_OFF_FIRST, "double"),
)
