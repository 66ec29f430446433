"""The answer to a teardown question, as the plain data that the format names."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fabshop.reckoning.questions.strict import moment_of
from fabshop.reckoning.teardown.best import Aim, Best, totals_of
from fabshop.reckoning.teardown.problem import Problem
from fabshop.reckoning.teardown.timing import Times, Timing, step_minutes

Answer = dict[str, Any]


def session_answers(
    problem: Problem, timing: Timing, any_order: Sequence[int]
) -> list[Answer]:
    """Each session with its steps and its latest starts."""
    early, late = timing.earliest(), timing.latest()
    assert early is not None, "a plan that was found can be carried out"
    return [
        _session(problem, timing, early, late, number, any_order[number])
        for number in range(len(timing.plan))
    ]


def _session(
    problem: Problem,
    timing: Timing,
    early: Times,
    late: Times,
    number: int,
    any_order: int,
) -> Answer:
    axis = problem.axis
    begin = early.begins[number]
    steps = timing.plan[number]
    clock = axis.start_clock(begin)
    shown = []
    for step, start in zip(steps, early.starts[number], strict=True):
        minutes = step_minutes(problem, step)
        if minutes:
            begins, clock = axis.start_clock(start), axis.end_clock(start + minutes)
        else:
            # Nothing is worked: it happens at once, or as the bench opens again
            # where what it waits for has cured in between.
            clock = max(clock, axis.end_clock(start))
            if timing.cured_clock(step) > clock:
                clock = axis.start_clock(start)
            begins = clock
        names = problem.jobs if step.do == "task" else problem.places
        line: Answer = {
            "do": step.do,
            "id": names[step.index].id,
            "minutes": minutes,
            "start": moment_of(begins),
            "finish": moment_of(clock),
        }
        if step.do == "task" and problem.jobs[step.index].cure:
            line["cured"] = moment_of(clock + problem.jobs[step.index].cure)
        shown.append(line)
    worked = sum(step_minutes(problem, step) for step in steps if step.do == "task")
    handled = problem.setup + sum(
        step_minutes(problem, step) for step in steps if step.do != "task"
    )
    end = early.starts[number][-1] + step_minutes(problem, steps[-1])
    return {
        "start": moment_of(axis.start_clock(begin)),
        "finish": moment_of(clock),
        "latest_start": moment_of(axis.start_clock(late.begins[number])),
        "latest_start_any_order": moment_of(axis.start_clock(any_order)),
        "handling_minutes": handled,
        "work_minutes": worked,
        "waiting_minutes": end - begin - handled - worked,
        "steps": shown,
    }


def totals_answer(problem: Problem, best: Best) -> Answer:
    """What the plan comes to."""
    totals = totals_of(problem, best.plan)
    return {
        "required": totals.required,
        "points": totals.points,
        "others": totals.others,
        "handling_minutes": totals.handling,
    }


def choice_answer(problem: Problem, sessions: int, best: Best) -> Answer:
    """The best plan with at most so many sessions, in one line."""
    line: Answer = {"sessions": sessions, **totals_answer(problem, best)}
    line["finish"] = None
    line["status"] = status_of(best)
    line["in_hand_minutes"] = 0
    timing = Timing(problem, best.plan)
    early = timing.earliest()
    if best.plan and early is not None:
        late = timing.latest().begins
        line["finish"] = session_answers(problem, timing, late)[-1]["finish"]
        line["in_hand_minutes"] = late[0] - early.begins[0]
    return line


def status_of(best: Best) -> str:
    """`optimal` when every aim is proven, else `feasible`."""
    return "optimal" if best.gap is None else "feasible"


def gap_answer(problem: Problem, aim: Aim) -> Answer:
    """The first aim that is not proven; the times among them as clock times."""
    reached: Any = aim.reached
    bound: Any = aim.bound
    if aim.name == "finish":
        reached, bound = (
            moment_of(problem.axis.end_clock(value)) for value in (reached, bound)
        )
    elif aim.name == "latest_start":
        reached, bound = (
            moment_of(problem.axis.start_clock(value)) for value in (reached, bound)
        )
    return {"aim": aim.name, "reached": reached, "bound": bound}
