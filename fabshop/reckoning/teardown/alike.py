"""Among plans that are as good, one that keeps to an order that is known already."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fabshop.reckoning.teardown.best import (
    Aim,
    Best,
    Budget,
    Totals,
    end_of,
    totals_of,
)
from fabshop.reckoning.teardown.carried_out import first_fault
from fabshop.reckoning.teardown.choice import Step
from fabshop.reckoning.teardown.problem import Problem
from fabshop.reckoning.teardown.timing import Plan, Timing

Known = Sequence[Sequence[tuple[str, str]]]
"""By session the steps of a plan accepted before: what is done, and to what."""

_Worth = tuple[Totals, int, int]


def known_plan(problem: Problem, known: Known, sessions: int) -> Plan:
    """The known steps as a plan of this question, where it can be carried out."""
    plan = tuple(steps for steps in _steps_of(problem, known) if _has_work(steps))
    plan = tuple(
        tuple(replace(step, session=number) for step in steps)
        for number, steps in enumerate(plan)
    )
    fits = len(plan) <= sessions and _worth(problem, plan) is not None
    return plan if fits else ()


def like_known(problem: Problem, best: Best, known: Known, budget: Budget) -> Best:
    """The best plan with its steps put as the known ones are, as far as that is free.

    Every change is carried out and timed again: what the plan comes to, its latest
    start and its finish are held, so what was proven of it stays proven.
    """
    wanted = _worth(problem, best.plan)
    if not best.plan or wanted is None:
        return best
    old = known_plan(problem, known, len(best.plan))
    if old and _is_as_good(problem, old, wanted):
        return _with_plan(problem, best, old)
    plan = list(best.plan)
    for number, steps in enumerate(_steps_of(problem, known)[: len(plan)]):
        mine = set(plan[number])
        wish = [step for step in steps if step in mine]
        for place in range(len(mine)):
            if not wish or budget.left_s <= 0:
                break
            session = plan[number]
            if session[place] == wish[0]:
                wish.pop(0)
                continue
            moved = _moved(session, wish[0], place)
            if _is_as_good(
                problem, (*plan[:number], moved, *plan[number + 1 :]), wanted
            ):
                plan[number] = moved
                wish.pop(0)
            elif session[place] in wish:
                wish.remove(session[place])
    return _with_plan(problem, best, tuple(plan))


def _with_plan(problem: Problem, best: Best, plan: Plan) -> Best:
    """The plan in the other's place; where not all was proven, it may be better."""
    worth = _worth(problem, plan)
    assert worth is not None
    now = {"latest_start": worth[1], "finish": worth[2]}
    aims = [replace(aim, reached=now.get(aim.name, aim.reached)) for aim in best.aims]
    if aims and aims[-1].name == "latest_start" and aims[-1].is_proven:
        # It got there only now: of the finish behind it nothing is proven yet.
        aims.append(Aim("finish", worth[2], 0))
    return replace(best, plan=plan, aims=tuple(aims))


def _moved(steps: tuple[Step, ...], step: Step, place: int) -> tuple[Step, ...]:
    others = [other for other in steps if other != step]
    return (*others[:place], step, *others[place:])


def _is_as_good(problem: Problem, plan: Plan, wanted: _Worth) -> bool:
    worth = _worth(problem, plan)
    if worth is None or worth[0] != wanted[0]:
        return False
    latest, finish = worth[1], worth[2]
    # Asked for the earliest finish, how long the plan can wait is no aim of it.
    return finish <= wanted[2] and (not problem.late_start or latest >= wanted[1])


def _worth(problem: Problem, plan: Plan) -> _Worth | None:
    """What a plan comes to, its latest start and its earliest finish."""
    if not plan or first_fault(problem, plan) is not None:
        return None
    timing = Timing(problem, plan)
    early = timing.earliest()
    if early is None:
        return None
    latest = timing.latest().begins[0]
    return totals_of(problem, plan), latest, end_of(problem, plan, early)


def _steps_of(problem: Problem, known: Known) -> list[tuple[Step, ...]]:
    """The known steps of which the question still speaks."""
    jobs = {job.id: index for index, job in enumerate(problem.jobs)}
    places = {place.id: index for index, place in enumerate(problem.places)}
    found = []
    for number, steps in enumerate(known):
        here = [
            Step(do, index, number)
            for do, name in steps
            if (index := (jobs if do == "task" else places).get(name)) is not None
        ]
        found.append(tuple(here))
    return found


def _has_work(steps: tuple[Step, ...]) -> bool:
    return any(step.do == "task" for step in steps)
