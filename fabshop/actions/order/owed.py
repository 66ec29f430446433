"""What of an order line came good, came wrong, was written off, and is still owed."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop import words
from fabshop.actions.moved import Before, move
from fabshop.records.order import Order, OrderLine
from fabshop.units import show_milli

# Settled so, pieces are not owed any more.
WRITTEN_OFF = (
    words.Settled.REFUNDED,
    words.Settled.MAKE_IT,
    words.Settled.REORDERED,
    words.Settled.GIVEN_UP,
)


@dataclass(frozen=True)
class Balance:
    """One line's thousandths: ordered, and what became of them."""

    ordered_milli: int
    accepted_milli: int
    wrong_milli: int
    written_off_milli: int

    @property
    def owed_milli(self) -> int:
        gone = self.accepted_milli + self.written_off_milli
        return max(0, self.ordered_milli - gone)

    @property
    def over_milli(self) -> int:
        return max(0, self.accepted_milli - self.ordered_milli)


def balance(line: OrderLine) -> Balance:
    """The balance of one line by its receipts and settlements."""
    receipts = line.receipts.all()
    return Balance(
        ordered_milli=line.quantity_milli,
        accepted_milli=sum(one.sign * one.accepted_milli for one in receipts),
        wrong_milli=sum(one.sign * one.wrong_milli for one in receipts),
        written_off_milli=sum(
            one.quantity_milli
            for one in line.settlements.all()
            if one.how in WRITTEN_OFF and not one.is_taken_back
        ),
    )


def pass_move_on(order: Order, before: Before) -> None:
    """Set the move to done when nothing is owed, and back when something is again."""
    owes = any(balance(line).owed_milli for line in order.lines.all())
    if not owes and order.move != words.Move.DONE:
        move(order, before, move=words.Move.DONE)
    elif owes and order.move == words.Move.DONE:
        back = words.Move.ME if order.sent_on is None else words.Move.FIRM
        move(order, before, move=back)


def line_name(line: OrderLine) -> str:
    """The line as a sentence names it: P02/1 Air ducts, left."""
    hand = f", {words.Hand(line.hand).label}" if line.hand else ""
    if line.title.endswith(f" {line.hand}"):
        hand = ""  # said already: Air duct L
    return f"{line.order.code}/{line.number} {line.title}{hand}"


def quantity_words(line: OrderLine, milli: int) -> str:
    """14, or 0.4 m² where the unit is no piece."""
    unit = words.Unit(line.unit)
    shown = show_milli(milli)
    return shown if unit is words.Unit.PIECE else f"{shown} {unit.label}"
