"""The spans in which work, runs and noise are allowed."""

from __future__ import annotations

from fabshop.reckoning.facts import DayFact, Span
from fabshop.reckoning.planning.calendar import (
    loud,
    merged,
    nothing_running,
    run_may_begin,
    without,
)
from tests.reckoning.facts_for import NOW, PACK_OUT, at, day, shop, span


def test_spans_are_joined_and_cut():
    spans = [span(1, 18, 21), span(0, 18, 20), span(0, 19, 21)]
    assert merged(spans, at(0, 19), at(1, 20)) == (span(0, 19, 21), span(1, 18, 20))


def test_a_gap_is_taken_out():
    assert without((span(0, 8, 20),), (span(0, 10, 12),)) == (
        span(0, 8, 10),
        span(0, 12, 20),
    )
    assert without((span(0, 8, 20),), (span(0, 0, 23),)) == ()


def test_nothing_runs_from_the_last_who_leaves_to_the_first_who_is_back():
    facts = shop(days=(DayFact(day(2), may_run_machines=False),))
    attended = (span(1, 18, 21), span(3, 13, 19))
    assert nothing_running(facts, attended, PACK_OUT) == (Span(at(1, 21), at(3, 13)),)


def test_a_run_is_begun_early_enough_to_be_over_before_that():
    nothing = (Span(at(1, 21), at(3, 13)),)
    spans = run_may_begin(nothing, 120, NOW, PACK_OUT)
    assert spans == (Span(NOW, at(1, 19)), Span(at(3, 13), PACK_OUT))


def test_quiet_hours_are_not_loud():
    facts = shop(days=(DayFact(day(1), quiet_until=at(1, 11)),))
    assert loud(facts, at(2, 0)) == (Span(NOW, at(1, 0)), Span(at(1, 11), at(2, 0)))
