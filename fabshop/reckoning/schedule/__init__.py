"""Who does what when, and in which way: the one public door."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.questions.schedule import ScheduleQuestion
from fabshop.reckoning.schedule.answer import answer_of, impossible, kept_plan
from fabshop.reckoning.schedule.best import Budget
from fabshop.reckoning.schedule.plan import best_plan
from fabshop.reckoning.schedule.problem import problem_of
from fabshop.reckoning.schedule.reasons import left_out, why_not_pinned

__all__ = ["plan_schedule"]

_REASONS_S = 0.3
"""Time kept back for telling why something is left out."""
_LEAST_S = 0.1


def plan_schedule(
    question: ScheduleQuestion,
    kept: dict[str, Any] | None = None,
    *,
    steady: bool = False,
) -> dict[str, Any]:
    """The best schedule, as the plain data that the format names.

    `kept` is an answer given before: of plans that are as good it is that one again,
    as far as its activities and ways are still in the question. A `steady` answer is
    the same on any machine, and may be waited for longer than the limit says.
    """
    budget = Budget(max(_LEAST_S, question.time_limit_s - _REASONS_S), steady)
    problem = problem_of(question)
    best = best_plan(problem, budget, kept_plan(problem, kept or {}))
    reasons_budget = Budget(_REASONS_S + budget.left_s, steady)
    pins = sum(job.pinned is not None for job in problem.jobs)
    if best.bounds[0] < pins:
        return impossible(why_not_pinned(problem, reasons_budget))
    return answer_of(problem, best, left_out(problem, best, reasons_budget))
