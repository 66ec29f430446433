"""Facts that only the shop's plan stands on: what is used up, and who is in when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from fabshop.reckoning.facts.shop import Span


@dataclass(frozen=True, slots=True)
class StoreFact:
    """What is used up: a spare by the piece, a consumable in thousandths of its unit.

    `use_by` is when what is left may no longer be used; None where nobody has said.
    `test_minutes` is what a spare wants first, where nobody knows that it works.
    """

    id: str
    title: str
    amount_milli: int
    unit: str = "pc"
    use_by: datetime | None = None
    is_spare: bool = False
    test_minutes: int = 0


@dataclass(frozen=True, slots=True)
class RunningFact:
    """A run that was begun and of which nobody has said what it came to."""

    task: str
    machine: str
    due_at: datetime


@dataclass(frozen=True, slots=True)
class Besides:
    """What the plan of the shop stands on besides the facts of every page.

    `attended` are the spans in which somebody is in who can start a run, bench hours
    among them.
    """

    attended: tuple[Span, ...] = ()
    stores: tuple[StoreFact, ...] = ()
    running: tuple[RunningFact, ...] = ()
