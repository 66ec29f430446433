"""An order accepted before is kept wherever that costs nothing."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

import pytest

from fabshop.reckoning.ask import reckon, teardown_like
from fabshop.reckoning.teardown.alike import known_plan, like_known
from fabshop.reckoning.teardown.best import Aim, Best, Budget, finish_of
from fabshop.reckoning.teardown.last_aim import latest_start_of
from tests.reckoning.replay import replay
from tests.reckoning.small_cases import small_case
from tests.reckoning.teardown.asked import DECK, LID, LOOM, MONDAY, asked, problem

CASE = Path(__file__).parent.parent / "cases" / "demo_teardown.json"
STEPS = (
    ("remove", "lid"),
    ("remove", "deck"),
    ("task", "loom"),
    ("refit", "deck"),
    ("refit", "lid"),
)
FLAP = {"id": "flap", "off": 2, "on": 2}
FAN = {"id": "fan", "minutes": 20, "remove": ["flap"]}


def order(answer: dict[str, Any]) -> list[list[tuple[str, str]]]:
    return [
        [(step["do"], step["id"]) for step in session["steps"]]
        for session in answer["sessions"]
    ]


def test_two_jobs_beside_each_other_keep_the_order_they_had() -> None:
    both = asked(components=[LID, DECK, FLAP], tasks=[LOOM, FAN])
    fan = [("remove", "flap"), ("task", "fan"), ("refit", "flap")]
    for known in ([*fan, *STEPS], [*STEPS, *fan], [*STEPS[:3], *fan, *STEPS[3:]]):
        answer = teardown_like(both, [known])
        assert order(answer) == [known]
        assert answer["status"] == "optimal"


def test_a_step_more_goes_in_and_the_others_stay() -> None:
    both = asked(components=[LID, DECK, FLAP], tasks=[LOOM, FAN])
    answer = teardown_like(both, [STEPS])
    (steps,) = order(answer)
    assert [step for step in steps if step in STEPS] == list(STEPS)


def test_an_order_that_cannot_be_carried_out_is_no_plan() -> None:
    one = problem()
    assert known_plan(one, [STEPS], 1)
    assert known_plan(one, [STEPS[1:]], 1) == ()
    assert known_plan(one, [[*STEPS, ("task", "gone")]], 1), "what is gone is left away"
    assert known_plan(one, [STEPS, STEPS], 1) == ()


def test_what_is_done_twice_is_no_plan() -> None:
    """A plan that counted its points twice was never bettered."""
    twice = [*STEPS[:3], STEPS[2], *STEPS[3:]]
    assert known_plan(problem(), [twice], 1) == ()
    assert known_plan(problem(), [STEPS, STEPS], 2) == ()


GLUE = {"id": "glue", "minutes": 10, "cure": 60, "remove": ["lid"]}
SAND = {"id": "sand", "minutes": 5, "after": ["glue"], "remove": ["lid"]}


@pytest.mark.parametrize("prefer", ["early_finish", "late_start"])
def test_what_is_told_of_an_unproven_plan_is_told_of_the_one_kept(prefer: str) -> None:
    one = problem(tasks=[LOOM, GLUE, SAND], components=[LID, DECK], prefer=prefer)
    head, tail = [*STEPS[:3]], [("task", "sand"), *STEPS[3:]]
    slow = known_plan(one, [[*head, ("task", "glue"), *tail]], 1)
    quick = [STEPS[0], ("task", "glue"), *STEPS[1:3], *tail]
    reached, over = latest_start_of(one, slow), finish_of(one, slow)
    aims = {
        "early_finish": (Aim("finish", over, 0),),
        "late_start": (Aim("latest_start", reached, one.axis.length),),
    }
    like = like_known(one, Best(slow, aims[prefer]), [quick], Budget(5))
    assert like.plan == known_plan(one, [quick], 1)
    assert like.gap
    told = {"finish": finish_of, "latest_start": latest_start_of}[like.gap.name]
    assert like.gap.reached == told(one, like.plan)
    # And where it reaches the bound, the finish behind it is still not proven.
    best = latest_start_of(one, like.plan)
    bounded = Best(slow, (Aim("latest_start", reached, best),))
    if prefer == "late_start" and best > reached:
        gap = like_known(one, bounded, [quick], Budget(5)).gap
        assert gap
        assert (gap.name, gap.reached) == ("finish", finish_of(one, like.plan))


def test_a_plan_of_two_sessions_is_begun_from_when_there_is_no_time() -> None:
    second = [("remove", "flap"), ("task", "fan"), ("refit", "flap")]
    late = {**FAN, "ready": "2031-05-06T18:00"}
    both = asked(
        components=[LID, DECK, FLAP],
        tasks=[LOOM, late],
        max_sessions=2,
        time_limit_s=0.001,
        windows=[MONDAY[:], ["2031-05-06T18:00", "2031-05-06T18:24"]],
    )
    answer = teardown_like(both, [STEPS, second])
    assert order(answer) == [list(STEPS), second]


def test_an_order_that_costs_the_latest_start_is_not_kept() -> None:
    """The glue first: the lid goes on again only when it has cured."""
    glue = {"id": "glue", "minutes": 10, "keeps_open": ["lid"], "cure": 600}
    question = asked(tasks=[LOOM, {**glue, "remove": ["lid"]}], prefer="late_start")
    plain = reckon("teardown", question)
    bad = [*STEPS[:3], ("task", "glue"), *STEPS[3:]]
    kept = teardown_like(question, [bad])
    assert kept["sessions"][0]["latest_start"] == plain["sessions"][0]["latest_start"]
    assert kept["sessions"][0]["finish"] == plain["sessions"][0]["finish"]


def test_nothing_known_and_nothing_planned_are_left_as_they_are() -> None:
    one = problem()
    nothing = Best((), ())
    assert like_known(one, nothing, [STEPS], Budget(1)) == nothing
    best = Best(known_plan(one, [STEPS], 1), ())
    assert like_known(one, best, [], Budget(1)) == best


@pytest.mark.parametrize("block", range(4))
def test_what_is_known_changes_nothing_that_is_proven(block: int) -> None:
    """A plan asked again with some other order in hand comes to the same."""
    for seed in range(block * 1000, block * 1000 + 15):
        question = small_case(seed)
        plain = reckon("teardown", question)
        chance = random.Random(seed)
        known = [chance.sample(steps, len(steps)) for steps in order(plain)]
        for hint in (known, order(plain)):
            like = teardown_like(question, hint)
            replay(question, like)
            assert like["status"] == plain["status"]
            assert like["totals"] == plain["totals"], seed
            assert like["choices"][-1]["finish"] == plain["choices"][-1]["finish"]
            if question["prefer"] == "late_start" and plain["sessions"]:
                first, again = (one["sessions"][0] for one in (plain, like))
                assert first["latest_start"] == again["latest_start"], seed
        assert order(like) == order(plain), seed


@pytest.mark.parametrize(("part", "more"), [("T10", 1), ("T27", 9), ("T02", 3)])
def test_a_part_that_takes_longer_moves_no_step_of_the_demo(
    part: str, more: int
) -> None:
    question = json.loads(CASE.read_text())
    before = reckon("teardown", question)
    for component in question["components"]:
        if component["id"] == part:
            component["on"] += more
    after = teardown_like(question, order(before))
    assert after["status"] == "optimal"
    assert order(after) == order(before)
