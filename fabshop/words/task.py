"""Words for tasks, holds, and why a task cannot be done now."""

from __future__ import annotations

from fabshop.words.word import Word, labelled, stamped


class TaskState(Word):
    """What people have said of a task; why it cannot be done is reckoned."""

    OPEN = "open"
    UNDER_WAY = "under-way"
    DONE = "done"
    ACCEPTED = "accepted"
    GIVEN_UP = "given-up"


class StageKind(Word):
    HANDS_ON = "hands-on"
    RUN = "run"
    CURE = "cure"


class SiteKind(Word):
    """How a task and a component belong together."""

    OPENS = "opens"
    REACH = "reach"
    REMOVE = "remove"
    FITS = "fits"
    KEEPS_OPEN = "keeps-open"


class NeedKind(Word):
    ORDER = "order"
    RACK = "rack"
    TOOL = "tool"


class ReadingKind(Word):
    TICK = "tick"
    NUMBER = "number"


class HoldVerdict(Word):
    SIGNED = "signed"
    FAILED = "failed"
    WAIVED = "waived"


class Why(Word):
    """Why a task cannot be done now; `ready` where it can."""

    READY = "ready"
    WANTS_PARTS = "wants-parts"
    SHUT_IN = "shut-in"
    AFTER_ANOTHER = "after-another"
    CURING = "curing"
    ON_HOLD = "on-hold"
    OUT_OF_HOURS = "out-of-hours"
    UNDER_WAY = "is-under-way"
    DONE = "is-done"
    GIVEN_UP = "is-given-up"


labelled(
    (StageKind.HANDS_ON, "hands-on"),
    (Why.UNDER_WAY, "under way"),
    (Why.DONE, "done"),
    (Why.GIVEN_UP, "given up"),
)

stamped(
    (HoldVerdict.FAILED, "hatched"),
    (HoldVerdict.WAIVED, "double"),
    (Why.WANTS_PARTS, "dashed"),
    (Why.SHUT_IN, "hatched"),
    (Why.AFTER_ANOTHER, "dashed"),
    (Why.CURING, "double"),
    (Why.ON_HOLD, "double"),
    (Why.OUT_OF_HOURS, "dashed"),
)
