"""Who does what when, and in which way: the one public door."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.questions.schedule import ScheduleQuestion
from fabshop.reckoning.schedule.answer import answer_of, impossible
from fabshop.reckoning.schedule.best import Budget
from fabshop.reckoning.schedule.plan import best_plan
from fabshop.reckoning.schedule.problem import problem_of
from fabshop.reckoning.schedule.reasons import left_out, why_not_pinned

__all__ = ["plan_schedule"]

_REASONS_S = 0.3
"""Time for telling why something is left out, where the plan has used up the limit."""


def plan_schedule(question: ScheduleQuestion) -> dict[str, Any]:
    """The best schedule, as the plain data that the format names."""
    budget = Budget(question.time_limit_s)
    problem = problem_of(question)
    best = best_plan(problem, budget)
    reasons_budget = Budget(max(budget.left_s, _REASONS_S))
    pins = sum(job.pinned is not None for job in problem.jobs)
    if best.bounds[0] < pins:
        return impossible(why_not_pinned(problem, reasons_budget))
    return answer_of(problem, best, left_out(problem, best, reasons_budget))
