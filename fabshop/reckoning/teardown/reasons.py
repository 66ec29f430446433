"""Why a task is left out, in plain words and true."""

from __future__ import annotations

from fabshop.reckoning.teardown.best import Best
from fabshop.reckoning.teardown.problem import Problem


def left_out(problem: Problem, best: Best) -> list[dict[str, str]]:
    """Each task that the plan does not do, with the reason."""
    done = {s.index for steps in best.plan for s in steps if s.do == "task"}
    return [
        {"task": job.id, "why": "does not fit"}
        for index, job in enumerate(problem.jobs)
        if index not in done
    ]
