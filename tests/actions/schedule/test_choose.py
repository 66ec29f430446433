"""One goal steered, and what that does at once."""

from __future__ import annotations

import pytest

from fabshop.actions.schedule import choose_goal
from fabshop.errors import BadInput
from fabshop.records.packout import Spare
from fabshop.records.schedule import ShopPlan
from fabshop.records.task import Task
from tests.factories import (
    MOMENT,
    BuildFactory,
    EstimateFactory,
    FallbackFactory,
    TaskFactory,
    WindowFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def goal(owner):
    task = TaskFactory(build=BuildFactory(), code="W1", points=5, is_required=False)
    EstimateFactory(task=task, minutes=60)
    FallbackFactory(task=task, title="Clips", minutes=10, points=1, uses="SP1")
    WindowFactory(person=owner, on=MOMENT.date().replace(day=4))
    return task


def way_of(name):
    plan = ShopPlan.objects.kept().get()
    done = {row["id"]: row["way"] for row in plan.answer["activities"]}
    return done.get(name), plan.answer["points"]


def test_a_plan_b_changes_the_plan_at_once_and_can_be_taken_back(owner, goal):
    clips = goal.fallbacks.get()
    chosen = choose_goal(
        by=owner, task=goal, choice="plan-b", fallback=clips, now=MOMENT
    )
    assert chosen.told == "goes by Plan B, Clips"
    assert way_of("W1")[1] == 1
    back = choose_goal(by=owner, task=goal, choice="free", now=MOMENT)
    assert way_of("W1") == ("final", 5)
    assert "1 points become 5" in back.plan.change


def test_what_is_given_up_is_wanted_again(owner, goal):
    TaskFactory(build=goal.build, code="W2")
    EstimateFactory(task=Task.objects.get(code="W2"), minutes=30)
    choose_goal(by=owner, task=goal, choice="give-up", now=MOMENT)
    assert way_of("W1") == (None, 0)
    choose_goal(by=owner, task=goal, choice="again", now=MOMENT)
    assert way_of("W1") == ("final", 5)


def test_a_spare_promised_twice_is_told_and_the_choice_stands(owner, goal):
    Spare.objects.create(code="SP1", title="Old pod", quantity=1)
    other = TaskFactory(build=goal.build, code="W2")
    FallbackFactory(task=other, title="Pod", minutes=10, uses="SP1", chosen_at=MOMENT)
    clips = goal.fallbacks.get()
    chosen = choose_goal(
        by=owner, task=goal, choice="plan-b", fallback=clips, now=MOMENT
    )
    assert chosen.breaks == ("SP1 is promised to W1 and W2: there is one piece",)
    assert chosen.plan is not None


def test_a_wish_is_kept_and_free_takes_it_back(owner, goal):
    choose_goal(by=owner, task=goal, choice="must", now=MOMENT)
    goal.refresh_from_db()
    assert goal.wished_at == MOMENT
    choose_goal(by=owner, task=goal, choice="free", now=MOMENT)
    goal.refresh_from_db()
    assert goal.wished_at is None


def test_a_plan_b_of_another_task_is_refused(owner, goal):
    with pytest.raises(BadInput, match="Which Plan B of W1"):
        choose_goal(
            by=owner, task=goal, choice="plan-b", fallback=FallbackFactory(), now=MOMENT
        )


def test_a_choice_stands_where_no_plan_can_be_made_of_it(owner, goal):
    chosen = choose_goal(by=owner, task=goal, choice="give-up", now=MOMENT)
    assert chosen.plan is None
    assert chosen.breaks == ("No task is open: there is nothing to plan.",)
