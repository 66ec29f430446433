"""The ways to do one task, in stretches of hands-on work and clock."""

from __future__ import annotations

from fabshop import words
from fabshop.reckoning.facts import FallbackFact, StageFact
from fabshop.reckoning.hours import Factor
from fabshop.reckoning.planning.way import (
    Stretch,
    base_of,
    factored,
    plan_b_id,
    spares_of,
    stretches,
    variants,
)
from tests.reckoning.facts_for import task

HANDS, RUN, CURE = words.StageKind.HANDS_ON, words.StageKind.RUN, words.StageKind.CURE
SLOW = {"other": Factor("other", 5, 300, 200, bites=True, lowest=1.0, highest=2.0)}


def test_a_task_without_stages_is_one_stretch_by_the_factor():
    assert stretches(task("a", minutes=60), SLOW) == (Stretch(90),)


def test_a_run_and_a_cure_follow_the_hands():
    stages = (StageFact(HANDS, 18), StageFact(RUN, 600, "print"), StageFact(CURE, 60))
    (only,) = stretches(task("a", minutes=18, stages=stages), {})
    assert only == Stretch(18, 600, "print", 60)
    assert only.tail == 660


def test_hands_behind_a_cure_are_a_stretch_of_their_own():
    stages = (StageFact(HANDS, 60), StageFact(CURE, 600), StageFact(HANDS, 30))
    told = stretches(task("a", minutes=90, stages=stages), SLOW)
    assert told == (Stretch(90, cure=600), Stretch(45))


def test_a_cure_that_nobody_begins_follows_all_the_work():
    stages = (StageFact(CURE, 600),)
    assert stretches(task("a", minutes=40, stages=stages), {}) == (
        Stretch(40, cure=600),
    )


def test_each_plan_b_is_a_way_and_a_wish_leaves_the_final_one():
    ways = (FallbackFact("Clips", 10, 1, "SP1 SP3"), FallbackFact("Tape", 5))
    told = variants(task("a", minutes=20, points=4, fallbacks=ways), SLOW, {"C01": 95})
    assert [(v.id, v.minutes, v.points) for v in told] == [
        ("final", 30, 4),
        ("plan-b", 15, 1),
        ("plan-b-2", 8, 0),
    ]
    assert told[0].takes == {"C01": 95}
    assert told[1].takes == {"SP1": 1000, "SP3": 1000}
    (wished,) = variants(task("a", fallbacks=ways, wished=True), {}, {})
    assert wished.is_final


def test_what_is_under_way_is_not_moved_to_another_way():
    ways = (FallbackFact("Clips", 10),)
    begun = task("a", fallbacks=ways, state=words.TaskState.UNDER_WAY)
    assert [v.id for v in variants(begun, {}, {})] == ["final"]


def test_ids_tell_the_way_whoever_does_it_and_in_whatever_turn():
    assert plan_b_id(0) == "plan-b"
    assert base_of("final by Hal") == "final"
    assert base_of("final by somebody in after W50") == "final"
    assert spares_of(FallbackFact("x", 1, uses="SP1 SP1")) == {"SP1": 2000}
    assert factored(9, "other", SLOW) == 14
