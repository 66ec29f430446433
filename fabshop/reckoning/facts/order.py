"""Facts about orders, their lines and what was promised."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from fabshop import words


@dataclass(frozen=True, slots=True)
class PromiseFact:
    """One word given on an arrival; `line` is "" where it is for the whole order."""

    line: str
    eta_on: date | None
    latest_on: date | None
    said: str
    at: datetime


@dataclass(frozen=True, slots=True)
class LineFact:
    """One line of an order. What is owed is what nothing above accounts for.

    `reordered` names the lines, with how much, that make good what was written off
    here; `taken_milli` is what finished tasks have used up; `came_on` is the day of
    the last count, `rest_from` the day on which it was agreed that the rest follows.
    """

    id: str
    order: str
    title: str
    hand: words.Hand
    unit: words.Unit
    quantity_milli: int
    accepted_milli: int = 0
    wrong_milli: int = 0
    written_off_milli: int = 0
    in_the_box: bool = False
    component: str = ""
    reordered: tuple[tuple[str, int], ...] = ()
    taken_milli: int = 0
    came_on: date | None = None
    rest_from: date | None = None

    @property
    def owed_milli(self) -> int:
        """What is still to come: ordered less accepted less settled otherwise."""
        return max(
            0, self.quantity_milli - self.accepted_milli - self.written_off_milli
        )


@dataclass(frozen=True, slots=True)
class OrderFact:
    id: str
    title: str
    supplier: str
    kind: words.OrderKind
    move: words.Move
    build: str = ""
    sent_on: date | None = None
    lead_early_days: int | None = None
    lead_likely_days: int | None = None
    lead_late_days: int | None = None
    file_name: str = ""
    file_revision: str = ""
    sent_revision: str = ""
    given_up: bool = False
    sent_with: str = ""
    made_on: date | None = None
    promises: tuple[PromiseFact, ...] = ()
    lines: tuple[LineFact, ...] = ()


@dataclass(frozen=True, slots=True)
class SlipFact:
    """A finished order of a firm: the day first promised, and when all was here."""

    supplier: str
    order: str
    promised_on: date
    arrived_on: date
