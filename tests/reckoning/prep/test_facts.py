"""What a checklist is told as."""

from __future__ import annotations

from datetime import datetime

from fabshop.reckoning.prep.facts import StepFact, TickFact
from fabshop.words import PrepKind, PrepStage


def test_a_step_is_a_plain_tick_that_stops_nothing_unless_it_is_said() -> None:
    step = StepFact(1, "Deburred", PrepStage.TACK)
    assert (step.kind, step.is_stop, step.minutes) == (PrepKind.TICK, False, None)


def test_a_tick_says_done_unless_it_says_otherwise() -> None:
    assert TickFact(1, datetime(2027, 9, 3)).is_done
