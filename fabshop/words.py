"""Every fixed word of the shop, with the sentence a page shows for it."""

from __future__ import annotations

from enum import StrEnum


class Word(StrEnum):
    """A fixed word; `label` is what is shown, `edge` how its stamp is drawn."""

    @property
    def label(self) -> str:
        return _LABELS.get((type(self), self.value), self.value.replace("-", " "))

    @property
    def edge(self) -> str:
        """One of solid, dashed, double, hatched: the edge of the stamped word."""
        return _EDGES.get((type(self), self.value), "solid")

    @classmethod
    def choices(cls) -> list[tuple[str, str]]:
        return [(word.value, word.label) for word in cls]


class Role(Word):
    OWNER = "owner"
    HELPER = "helper"
    VIEWER = "viewer"


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


class OrderKind(Word):
    BOUGHT = "bought"
    CUT = "cut"
    SERVICE = "service"
    COMMISSION = "commission"
    LOAN = "loan"


class Move(Word):
    """Whose move an order is."""

    ME = "me"
    FIRM = "firm"
    CARRIER = "carrier"
    DONE = "done"


class Unit(Word):
    PIECE = "pc"
    METRE = "m"
    SQUARE_METRE = "m2"
    GRAM = "g"
    MILLILITRE = "ml"


class Hand(Word):
    NONE = ""
    LEFT = "L"
    RIGHT = "R"


class ReceiptKind(Word):
    """A parcel that came, opened or not; or pieces taken back."""

    COUNTED = "counted"
    IN_THE_BOX = "in-the-box"
    TAKEN_BACK = "taken-back"


class WrongWhy(Word):
    HAND = "hand"
    HOLE = "hole"
    SIZE = "size"
    FINISH = "finish"
    DAMAGE = "damage"
    OTHER = "other"


class Settled(Word):
    """What becomes of pieces that did not come."""

    COMING = "coming"
    REFUNDED = "refunded"
    MAKE_IT = "make-it"
    REORDERED = "reordered"
    GIVEN_UP = "given-up"


class OrderStand(Word):
    """Where an order stands; reckoned from what is recorded, never stored."""

    NOT_SENT = "not-sent"
    SENT = "sent"
    OWED = "owed"
    SLIPPED = "slipped"
    SHORT = "short"
    NOT_AS_DRAWN = "not-as-drawn"
    IN_THE_BOX = "still-in-the-box"
    BOOKED_IN = "booked-in"
    GIVEN_UP = "given-up-order"


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


class StuckOn(Word):
    PART = "part"
    TOOL = "tool"
    THINKING = "thinking"
    PERSON = "person"


class PlanState(Word):
    PROPOSED = "proposed"
    ACCEPTED = "accepted"
    SUPERSEDED = "superseded"


class StepDo(Word):
    REMOVE = "remove"
    TASK = "task"
    REFIT = "refit"


def _keyed(*pairs: tuple[Word, str]) -> dict[tuple[type, str], str]:
    # Two words of different kinds may be spelt alike, so the kind is in the key.
    return {(type(word), word.value): text for word, text in pairs}


_LABELS = _keyed(
    (Role.OWNER, "owner"),
    (ComponentState.STAND_IN, "stand-in"),
    (ComponentState.DRY_FIT, "dry-fit"),
    (StageKind.HANDS_ON, "hands-on"),
    (EntryKind.PART_DONE, "part-done"),
    (MassBasis.ESTIMATED, "estimated"),
    (MassBasis.WEIGHED, "weighed"),
    (Side.LEFT, "left"),
    (Side.RIGHT, "right"),
    (Locker.NONE, "dry"),
    (Locker.MEDIUM, "medium thread-locker"),
    (Locker.HIGH, "high-strength thread-locker"),
    (Locker.NYLON_NUT, "new nylon nut"),
    (OrderKind.BOUGHT, "bought"),
    (OrderKind.CUT, "cut for us"),
    (OrderKind.LOAN, "on loan"),
    (Move.ME, "with me"),
    (Move.FIRM, "with them"),
    (Move.CARRIER, "on the road"),
    (Move.DONE, "done"),
    (Unit.SQUARE_METRE, "m²"),
    (ReceiptKind.IN_THE_BOX, "still in the box"),
    (WrongWhy.HAND, "wrong hand"),
    (WrongWhy.HOLE, "a hole"),
    (WrongWhy.SIZE, "the size"),
    (WrongWhy.FINISH, "the finish"),
    (WrongWhy.DAMAGE, "damaged"),
    (WrongWhy.OTHER, "something else"),
    (Settled.COMING, "rest coming"),
    (Settled.MAKE_IT, "make it here"),
    (Settled.REORDERED, "ordered again"),
    (OrderStand.GIVEN_UP, "given up"),
    (Why.UNDER_WAY, "under way"),
    (Why.DONE, "done"),
    (Why.GIVEN_UP, "given up"),
    (EntryKind.GIVEN_UP, "given up"),
    (EntryKind.SENT, "file sent"),
    (EntryKind.NOT_SENT, "not sent after all"),
    (EntryKind.PUT_ON, "put on"),
    (EntryKind.ACCEPTED, "plan accepted"),
    (StuckOn.PART, "a part"),
    (StuckOn.TOOL, "a tool"),
    (StuckOn.PERSON, "a person"),
)

# The same edge means the same thing on paper and on the phone.
_EDGES = _keyed(
    (ComponentState.STAND_IN, "dashed"),
    (ComponentState.MISSING, "dashed"),
    (ComponentState.DRY_FIT, "dashed"),
    (HoldVerdict.FAILED, "hatched"),
    (HoldVerdict.WAIVED, "double"),
    (OrderStand.NOT_SENT, "hatched"),
    (OrderStand.SLIPPED, "double"),
    (OrderStand.SHORT, "double"),
    (OrderStand.NOT_AS_DRAWN, "hatched"),
    (OrderStand.IN_THE_BOX, "double"),
    (OrderStand.OWED, "dashed"),
    (OrderStand.SENT, "dashed"),
    (Why.WANTS_PARTS, "dashed"),
    (Why.SHUT_IN, "hatched"),
    (Why.AFTER_ANOTHER, "dashed"),
    (Why.CURING, "double"),
    (Why.ON_HOLD, "double"),
    (Why.OUT_OF_HOURS, "dashed"),
    (PlanState.SUPERSEDED, "dashed"),
)
