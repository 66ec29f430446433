"""Plans made by rule are plans: carried out step by step, like any other."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.console.bench.made_up import teardown_question
from fabshop.reckoning.questions import parse
from fabshop.reckoning.teardown.answer import (
    choice_answer,
    session_answers,
    totals_answer,
)
from fabshop.reckoning.teardown.best import Best, Budget
from fabshop.reckoning.teardown.by_rule import likely_picks, plan_by_rule
from fabshop.reckoning.teardown.problem import Problem, problem_of, start_spans
from fabshop.reckoning.teardown.timing import Plan, Timing
from tests.reckoning.replay import replay
from tests.reckoning.small_cases import small_case
from tests.reckoning.teardown.asked import LOOM, asked


def by_rule(question: dict[str, Any], sessions: int) -> dict[str, Any]:
    """An answer of the plan by rule, all tasks spread over the sessions in turn."""
    problem = problem_of(parse("teardown", question))
    picks = [
        (task, task * sessions // len(problem.jobs))
        for task, job in enumerate(problem.jobs)
        if start_spans(problem.axis, job)
    ]
    return answer_of(question, problem, plan_by_rule(problem, picks, Budget(60)))


def answer_of(question: dict[str, Any], problem: Problem, plan: Plan) -> dict[str, Any]:
    """The answer that a plan makes, as the format has it."""
    best = Best(plan, ())
    timing = Timing(problem, best.plan)
    done = {s.index for steps in best.plan for s in steps if s.do == "task"}
    return {
        "sessions": session_answers(problem, timing, timing.latest().begins),
        "left_out": [
            {"task": job.id, "why": "by rule"}
            for task, job in enumerate(problem.jobs)
            if task not in done
        ],
        "totals": totals_answer(problem, best),
        "choices": [
            choice_answer(problem, count + 1, best)
            for count in range(question["max_sessions"])
        ],
    }


@pytest.mark.parametrize("block", range(20))
def test_a_plan_by_rule_can_be_carried_out(block: int) -> None:
    done = 0
    for seed in range(7000 + block * 40, 7040 + block * 40):
        question = small_case(seed)
        answer = by_rule(question, question["max_sessions"])
        replay(question, answer)
        done += len(answer["sessions"])
    assert done > 20


@pytest.mark.parametrize("seed", range(6))
def test_a_plan_by_rule_for_a_large_machine_does_most_of_what_is_likely(
    seed: int,
) -> None:
    question = {**teardown_question(80, 30, 1, seed), "wait_for": "each"}
    problem = problem_of(parse("teardown", question))
    picks = likely_picks(problem, list(range(30)))
    answer = answer_of(question, problem, plan_by_rule(problem, picks, Budget(60)))
    replay(question, answer)
    assert 2 * len(picks) < 3 * (30 - len(answer["left_out"])) + 6


def test_the_plain_question_is_done_whole_by_rule() -> None:
    question = {**asked(tasks=[LOOM]), "max_sessions": 1}
    answer = by_rule(question, 1)
    replay(question, answer)
    assert [step["id"] for step in answer["sessions"][0]["steps"]] == [
        "lid", "deck", "loom", "deck", "lid",
    ]  # fmt: skip
