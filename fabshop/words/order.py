"""Words for orders, whose move they are, and what came."""

from __future__ import annotations

from fabshop.words.word import Word, labelled, stamped


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


labelled(
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
)

stamped(
    (OrderStand.NOT_SENT, "hatched"),
    (OrderStand.SLIPPED, "double"),
    (OrderStand.SHORT, "double"),
    (OrderStand.NOT_AS_DRAWN, "hatched"),
    (OrderStand.IN_THE_BOX, "double"),
    (OrderStand.OWED, "dashed"),
    (OrderStand.SENT, "dashed"),
)
