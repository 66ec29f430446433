"""Words for builds, their components and what holds them."""

from __future__ import annotations

from fabshop.words.word import Word, labelled, stamped


class BuildState(Word):
    LIVE = "live"
    CLOSED = "closed"


class ComponentState(Word):
    """What sits at a place on the build."""

    MISSING = "missing"
    STAND_IN = "stand-in"
    DRY_FIT = "dry-fit"
    FINAL = "final"
    RETIRED = "retired"


class MassBasis(Word):
    ESTIMATED = "est"
    WEIGHED = "wgd"


class Side(Word):
    NONE = ""
    LEFT = "L"
    RIGHT = "R"


class Locker(Word):
    """What keeps a fastener from turning."""

    NONE = "dry"
    MEDIUM = "medium"
    HIGH = "high"
    NYLON_NUT = "nylon-nut"


labelled(
    (ComponentState.STAND_IN, "stand-in"),
    (ComponentState.DRY_FIT, "dry-fit"),
    (MassBasis.ESTIMATED, "estimated"),
    (MassBasis.WEIGHED, "weighed"),
    (Side.LEFT, "left"),
    (Side.RIGHT, "right"),
    (Locker.NONE, "dry"),
    (Locker.MEDIUM, "medium thread-locker"),
    (Locker.HIGH, "high-strength thread-locker"),
    (Locker.NYLON_NUT, "new nylon nut"),
)

stamped(
    (ComponentState.STAND_IN, "dashed"),
    (ComponentState.MISSING, "dashed"),
    (ComponentState.DRY_FIT, "dashed"),
)
