"""Worths that bars cannot carry, and complete lists of patterns."""

from __future__ import annotations

from fabshop.reckoning.cutting.best import Budget
from fabshop.reckoning.cutting.pattern import Patterns
from tests.reckoning.cutting.asked import ROLLS, compiled, one_length


def test_the_rolls_are_refused_on_72_and_not_on_73() -> None:
    """The relaxation is 72.9167 rolls, so even fractions do not fit 72."""
    patterns = Patterns(compiled(one_length(5600, ROLLS)))
    conflict = patterns.conflict((72,), Budget(20))
    assert conflict is not None
    assert not conflict.is_carried_by((72,))
    assert conflict.is_carried_by((73,))
    assert patterns.conflict((73,), Budget(20)) is None
    assert patterns.some((73,))


def test_the_rolls_have_308_patterns() -> None:
    """The article counts them; the empty one is not among its 308."""
    patterns = Patterns(compiled(one_length(5600, ROLLS)))
    columns = patterns.complete((219,), 1000)
    assert columns is not None
    assert len([counts for _, counts in columns if any(counts)]) == 308
    assert patterns.complete((219,), 300) is None


def test_bars_that_hold_too_little_have_no_patterns() -> None:
    patterns = Patterns(compiled(one_length(10, {5: 5})))
    assert patterns.complete((2,), 10) == []
    # Three bars of two, one of them to carry one: the others must be full.
    assert patterns.complete((3,), 10, 0, 1) == [(0, (1,)), (0, (2,))]
