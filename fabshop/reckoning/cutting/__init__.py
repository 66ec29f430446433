"""Which piece from which stock: the one public door."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.cutting.answer import answer_of
from fabshop.reckoning.cutting.best import Budget
from fabshop.reckoning.cutting.drop_first import drop_first
from fabshop.reckoning.cutting.plan import best_plan
from fabshop.reckoning.cutting.problem import problem_of
from fabshop.reckoning.questions.cutlist import CutlistQuestion

__all__ = ["cut_list"]


def cut_list(question: CutlistQuestion) -> dict[str, Any]:
    """The best cut list, as the plain data that the format names."""
    budget = Budget(question.time_limit_s)
    problem = problem_of(question)
    if question.prefer == "drop":
        # Half the time is for what is cut and bought, half for what is left of it.
        best = best_plan(problem, Budget(question.time_limit_s / 2))
        return answer_of(question, problem, drop_first(problem, best, budget))
    return answer_of(question, problem, best_plan(problem, budget))
