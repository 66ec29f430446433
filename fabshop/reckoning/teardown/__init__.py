"""Which tasks go into which teardown, and in what order: the one public door."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.questions.teardown import TeardownQuestion
from fabshop.reckoning.teardown.alike import Known, known_plan, like_known
from fabshop.reckoning.teardown.answer import (
    choice_answer,
    gap_answer,
    session_answers,
    status_of,
    totals_answer,
)
from fabshop.reckoning.teardown.any_order import latest_start_any_order
from fabshop.reckoning.teardown.best import Best, Budget, totals_of
from fabshop.reckoning.teardown.plan import best_plan, rank
from fabshop.reckoning.teardown.problem import problem_of
from fabshop.reckoning.teardown.reasons import left_out
from fabshop.reckoning.teardown.timing import Timing

__all__ = ["Known", "plan_teardown"]

_EARLY_SHARE = 0.2
"""Of the time left, what a plan of fewer sessions than asked may use."""
_ALIKE_S = 0.5
"""Time for putting the steps of the best plan as those accepted before are."""
_REASONS_S = 0.2
"""Time for telling why a task is left out, where the plan has used up the limit."""


def plan_teardown(question: TeardownQuestion, known: Known = ()) -> dict[str, Any]:
    """The best teardown, as the plain data that the format names.

    `known` are the steps of a plan accepted before: the search begins from them, and
    of plans that are as good the answer is one that keeps to their order.
    """
    budget = Budget(question.time_limit_s)
    problem = problem_of(question)
    choices = []
    best = Best((), ())
    for sessions in range(1, question.max_sessions + 1):
        later = question.max_sessions - sessions
        part = min(_EARLY_SHARE, 1 / (later + 1)) if later else 1.0
        begun = max(
            (best.plan, known_plan(problem, known, sessions)),
            key=lambda plan: rank(totals_of(problem, plan)),
        )
        best = best_plan(problem, sessions, budget.share(part), begun)
        if known:
            best = like_known(problem, best, known, Budget(_ALIKE_S))
        choices.append(choice_answer(problem, sessions, best))
    any_order = [
        latest_start_any_order(problem, best.plan, session, budget)
        for session in range(len(best.plan))
    ]
    answer: dict[str, Any] = {"status": status_of(best)}
    if best.gap is not None:
        answer["gap"] = gap_answer(problem, best.gap)
    reasons_budget = Budget(max(budget.left_s, _REASONS_S))
    answer["sessions"] = session_answers(problem, Timing(problem, best.plan), any_order)
    answer["left_out"] = left_out(problem, best, question.max_sessions, reasons_budget)
    answer["totals"] = totals_answer(problem, best)
    answer["choices"] = choices
    return answer
