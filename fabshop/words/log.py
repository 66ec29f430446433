"""Words for the lines of the shop log."""

from __future__ import annotations

from fabshop.words.word import Word, labelled


class EntryKind(Word):
    """What a line of the shop log records."""

    START = "start"
    STOP = "stop"
    DONE = "done"
    PART_DONE = "part-done"
    STUCK = "stuck"
    NOTE = "note"
    UNDO = "undo"
    REOPENED = "reopened"
    GIVEN_UP = "given-up-task"
    CHANGED = "changed"
    TAKEN_OFF = "taken-off"
    PUT_ON = "put-on"
    SENT = "file-sent"
    NOT_SENT = "not-sent-after-all"
    PROMISED = "promised"
    RECEIVED = "received"
    TAKEN_BACK = "taken-back"
    SETTLED = "settled"
    HOLD = "hold"
    RUN_STARTED = "run-started"
    RUN_ENDED = "run-ended"
    PLANNED = "planned"
    ACCEPTED = "plan-accepted"
    STEP = "step"
    BROKE = "broke"
    IDEA = "idea"
    ON_RACK = "put-on-the-rack"
    CUT = "cut"
    COUNTED = "counted-up"
    HELD = "held-for-a-task"
    LET_GO = "let-go"
    SHELF = "on-the-shelf"
    USED = "used"
    SHELF_COUNT = "shelf-counted-up"
    OVERRULED = "overruled"
    JOINT = "joint"
    PREPARED = "prepared"
    COLOUR = "colour-call"
    DRAWN = "drawing"
    MEASURED = "measured"


class StuckOn(Word):
    PART = "part"
    TOOL = "tool"
    THINKING = "thinking"
    PERSON = "person"


labelled(
    (EntryKind.PART_DONE, "part-done"),
    (EntryKind.GIVEN_UP, "given up"),
    (EntryKind.SENT, "file sent"),
    (EntryKind.NOT_SENT, "not sent after all"),
    (EntryKind.PUT_ON, "put on"),
    (EntryKind.ACCEPTED, "plan accepted"),
    (EntryKind.SHELF_COUNT, "counted on the shelf"),
    (StuckOn.PART, "a part"),
    (StuckOn.TOOL, "a tool"),
    (StuckOn.PERSON, "a person"),
)
