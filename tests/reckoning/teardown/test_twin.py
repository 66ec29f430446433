"""Two schedules, one order."""

from __future__ import annotations

from fabshop.reckoning import solver
from fabshop.reckoning.teardown.choice import Choice
from fabshop.reckoning.teardown.scope import whole_scope
from fabshop.reckoning.teardown.twin import Twin
from tests.reckoning.teardown.asked import problem


def test_both_schedules_follow_one_another_in_the_same_order() -> None:
    tasks = [{"id": f"t{n}", "minutes": 10 + n} for n in range(4)]
    asked = problem(components=[], tasks=tasks)
    twin = Twin(Choice(asked, whole_scope(asked, 1)))
    for literal in twin.early.choice.taken.values():
        twin.model.add(literal == 1)
    twin.model.add(twin.late.begin[0] >= 100)
    twin.model.minimize(twin.early.finish[0])
    outcome = solver.run(twin.model, limit_s=20)
    assert outcome.best == sum(task["minutes"] for task in tasks)
    assert twin.early.plan(outcome) == twin.late.plan(outcome)
