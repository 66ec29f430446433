"""What each goal brings for the hours it still takes."""

from __future__ import annotations

import pytest

from fabshop.reckoning.facts import FallbackFact, FinishedTask
from fabshop.reckoning.triage import promised_twice, shown, worths
from tests.reckoning.facts_for import order, shop, task


def nose(**said):
    return [
        task("mould", minutes=120, required=False),
        task("nose", minutes=60, after="mould", points=12, **said),
    ]


def test_the_whole_chain_counts_by_the_factor_or_as_first_guessed():
    finished = tuple(FinishedTask("other", 60, 72) for _ in range(5))
    facts = shop(tasks=nose(), finished=finished)
    (by_factor,) = worths(facts)
    (guessed,) = worths(facts, first_guess=True)
    assert (by_factor.minutes, guessed.minutes) == (216, 180)
    assert guessed.per_hour == pytest.approx(4.0)
    assert guessed.chain == ("mould",)


def test_a_plan_b_is_told_by_what_the_final_way_brings_for_an_hour_more():
    (goal,) = worths(shop(tasks=nose(fallbacks=(FallbackFact("Buck", 60, 4),))))
    (plan_b,) = goal.plans_b
    assert plan_b.more_per_hour == pytest.approx(4.0)
    assert not plan_b.costs_more


def test_a_plan_b_that_takes_longer_for_less_is_never_worth_it():
    (goal,) = worths(shop(tasks=nose(fallbacks=(FallbackFact("Carve it", 200, 4),))))
    assert goal.plans_b[0].costs_more
    assert goal.plans_b[0].more_per_hour is None


def test_a_goal_that_can_never_be_says_what_it_needs_instead_of_a_rate():
    given_up = order("P1", given_up=True)
    (goal,) = worths(shop(tasks=nose(needs="P1/1"), orders=[given_up]))
    assert goal.per_hour is None
    assert goal.cannot == "needs P1 for nose"


def test_those_that_bring_most_come_first():
    tasks = [task("a", points=1), task("b", points=5), task("c")]
    assert [goal.task for goal in worths(shop(tasks=tasks))] == ["b", "a"]


def test_a_spare_promised_twice_is_told_with_both():
    tasks = [
        task("a", fallbacks=(FallbackFact("x", 1, uses="SP1"),)),
        task("b", fallbacks=(FallbackFact("y", 1, uses="SP1 SP3", chosen=True),)),
    ]
    facts = shop(tasks=tasks)
    (clash,) = promised_twice(facts, {"SP1": 1, "SP3": 1})
    assert (clash.spare, clash.tasks, clash.pieces) == ("SP1", ("a", "b"), 1)
    assert promised_twice(facts, {"SP1": 2}) == ()
    assert promised_twice(facts, {}, chosen_only=True) == ()


@pytest.mark.parametrize(
    ("rate", "words"), [(6.667, "6.7"), (1.25, "1.25"), (2.0, "2"), (0.68, "0.68")]
)
def test_a_rate_is_shown_as_fine_as_it_matters(rate, words):
    assert shown(rate) == words
