"""Walked side by side, each run is what placing it alone gives."""

from __future__ import annotations

import random
from dataclasses import replace

import msgspec
import numpy as np
import pytest

from fabshop.reckoning.questions.schedule import schedule_question
from fabshop.reckoning.schedule.place import placed_in_order
from fabshop.reckoning.schedule.problem import Problem, problem_of
from fabshop.reckoning.schedule.scope import scope_of
from fabshop.reckoning.sure.hours import NEVER
from fabshop.reckoning.sure.walk import Walk
from tests.reckoning.schedule.small_cases import small_case

RUNS = 6


def shop_of(seed: int) -> Problem:
    """One of each resource, without a deadline."""
    question = small_case(seed, most=9)
    for resource in question["resources"]:
        resource["capacity"] = 1
    asked = schedule_question(question)
    return problem_of(msgspec.structs.replace(asked, deadline=None))


@pytest.mark.parametrize("seed", range(120))
def test_each_run_is_a_plan_of_its_own(seed: int) -> None:
    problem = shop_of(seed)
    scope = scope_of(problem)
    plan = placed_in_order(
        problem, [(i, ways[0]) for i, ways in enumerate(scope.ways) if ways]
    )
    order = tuple((i, placed.way) for i, placed in plan.items())
    chance = random.Random(seed)
    minutes, ready = {}, {}
    for i, n in order:
        planned = problem.jobs[i].ways[n].minutes
        drawn = [chance.randint(1, 2 * planned) if planned else 0 for _ in range(RUNS)]
        minutes[i] = np.array(drawn, dtype=np.int64)
        if chance.random() < 0.4:
            days = [chance.randint(0, 15) for _ in range(RUNS)]
            ready[i] = np.array(days, dtype=np.int64)
    walked = Walk(problem, order, RUNS).through(minutes, ready)
    for run in range(RUNS):
        jobs = list(problem.jobs)
        for i, n in order:
            ways = list(jobs[i].ways)
            ways[n] = replace(ways[n], minutes=int(minutes[i][run]))
            begins = max(jobs[i].ready, int(ready[i][run]) if i in ready else 0)
            jobs[i] = replace(jobs[i], ways=tuple(ways), ready=begins, due=NEVER)
        alone = placed_in_order(replace(problem, jobs=tuple(jobs), horizon=500), order)
        for i, _ in order:
            finish = int(walked.finishes[i][run])
            if finish >= NEVER:
                # Past the last window: placed alone it finds no hours at all, and
                # from here on the two shops differ.
                assert i not in alone
                break
            assert (int(walked.starts[i][run]), finish) == (
                alone[i].start,
                alone[i].finish,
            )
