"""What a question leaves open: the components and sessions that can matter."""

from __future__ import annotations

from fabshop.reckoning.teardown.choice import Scope, Step
from fabshop.reckoning.teardown.problem import Problem, start_spans


def whole_scope(problem: Problem, sessions: int) -> Scope:
    """Every task that its own times allow, every component that one may need off."""
    tasks = {
        task: tuple(range(sessions)) if start_spans(problem.axis, job) else ()
        for task, job in enumerate(problem.jobs)
    }
    wanted = {
        place
        for task, job in enumerate(problem.jobs)
        if tasks[task]
        for place in job.fits + job.remove
    }
    reached = {
        place
        for task, job in enumerate(problem.jobs)
        if tasks[task]
        for place in job.reach
    }
    wanted |= {
        index for index, place in enumerate(problem.places) if not place.is_fitted
    }
    wanted |= {over for place in reached for over in _over(problem, place)}
    waiting = list(wanted)
    while waiting:
        for over in _over(problem, waiting.pop()) - wanted:
            wanted.add(over)
            waiting.append(over)
    return Scope(sessions, tasks, (frozenset(wanted),) * sessions)


def _over(problem: Problem, place: int) -> set[int]:
    return {over for route in problem.places[place].routes for over in route}


def places_off_at_first(problem: Problem) -> frozenset[int]:
    """What lies off, or is not made yet, as the first session begins."""
    return frozenset(
        index for index, place in enumerate(problem.places) if not place.is_fitted
    )


def scope_of_plan(problem: Problem, plan: tuple[tuple[Step, ...], ...]) -> Scope:
    """Only the tasks of a plan, in their sessions, and only what it handles."""
    off = places_off_at_first(problem)
    return Scope(
        len(plan),
        {
            step.index: (step.session,)
            for steps in plan
            for step in steps
            if step.do == "task"
        },
        tuple(
            off | {step.index for step in steps if step.do != "task"} for steps in plan
        ),
    )
