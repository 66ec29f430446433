"""Breeding keeps the rules of the shop, and time turned round is the same shop."""

from __future__ import annotations

import pytest

from fabshop.reckoning.questions.schedule import schedule_question
from fabshop.reckoning.schedule.best import Budget, finish_of, rank_of
from fabshop.reckoning.schedule.breed import Breed, mirrored
from fabshop.reckoning.schedule.by_rule import plan_by_rule
from fabshop.reckoning.schedule.place import Plan
from fabshop.reckoning.schedule.problem import Problem, problem_of
from fabshop.reckoning.schedule.scope import scope_of
from tests.reckoning.schedule import published
from tests.reckoning.schedule.minutes import Done, Shop
from tests.reckoning.schedule.published import project
from tests.reckoning.schedule.small_cases import small_case


def told(problem: Problem, plan: Plan) -> dict[str, Done]:
    return {
        problem.jobs[i].id: Done(problem.jobs[i].ways[p.way].id, p.start, p.finish)
        for i, p in plan.items()
    }


@pytest.mark.parametrize("seed", range(80))
def test_what_is_bred_can_be_carried_out_and_is_no_worse(seed: int) -> None:
    question = small_case(seed, most=9)
    problem = problem_of(schedule_question(question))
    scope = scope_of(problem)
    ways, order, plan = plan_by_rule(problem, scope, Budget(1))
    breed = Breed(problem, scope)
    breed.add_plan(plan)
    breed.seed(ways, order, Budget(1))
    breed.run(Budget(0.01))
    shop = Shop(question)
    assert breed.best.rank >= rank_of(problem, plan)
    for one in breed.kept:
        assert shop.faults(told(problem, one.plan)) == []
        assert shop.rank(told(problem, one.plan)) == one.rank


@pytest.mark.parametrize("seed", range(80))
def test_justified_twice_a_plan_does_the_same_and_ends_no_later(seed: int) -> None:
    problem = problem_of(schedule_question(small_case(seed, most=9)))
    scope = scope_of(problem)
    _, _, plan = plan_by_rule(problem, scope, Budget(1))
    again = Breed(problem, scope).justified(plan)
    assert again.keys() == plan.keys()
    assert finish_of(again) <= finish_of(plan)


def test_time_turned_round_twice_is_time() -> None:
    question = project(
        published.J301_1_SUCCESSORS, published.J301_1_WORK, (12, 13, 4, 12)
    )
    problem = problem_of(schedule_question(question))
    ways = dict.fromkeys(range(len(problem.jobs)), 0)
    back = mirrored(mirrored(problem, ways), ways)
    assert back.jobs == problem.jobs
    assert back.windows == problem.windows


def test_breeding_finds_the_published_optimum() -> None:
    question = project(
        published.J301_1_SUCCESSORS, published.J301_1_WORK, (12, 13, 4, 12)
    )
    problem = problem_of(schedule_question(question))
    breed = Breed(problem, scope_of(problem))
    jobs = len(problem.jobs)
    breed.seed(dict.fromkeys(range(jobs), 0), [0.0] * jobs, Budget(30))
    breed.run(Budget(2))
    assert finish_of(breed.best.plan) == published.J301_1_OPTIMUM
