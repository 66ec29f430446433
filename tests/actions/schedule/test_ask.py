"""Asking for the plan, and keeping it."""

from __future__ import annotations

import pytest

from fabshop import words
from fabshop.actions.schedule import ask_plan
from fabshop.errors import BadInput, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.schedule import ShopPlan
from tests.factories import (
    MOMENT,
    BuildFactory,
    EstimateFactory,
    TaskFactory,
    WindowFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def work(owner):
    build = BuildFactory()
    task = TaskFactory(build=build, code="W1", points=3)
    EstimateFactory(task=task, minutes=60)
    for days in (1, 2):
        WindowFactory(person=owner, on=MOMENT.date().replace(day=3 + days))
    return task


def test_a_plan_is_kept_with_its_letter_and_told_in_the_log(owner, work):
    plan = ask_plan(by=owner, now=MOMENT)
    assert (plan.edition, plan.is_current, plan.change) == ("A", True, "")
    assert plan.answer["points"] == 3
    assert plan.late_answer["points"] == 3
    assert plan.sure["plans"][0]["chance"] == 1.0
    entry = LogEntry.objects.get(kind=words.EntryKind.PLANNED)
    assert entry.text == "The plan: 3 points"


def test_the_next_one_says_what_it_changes_and_the_first_stays(owner, work):
    ask_plan(by=owner, now=MOMENT)
    task = TaskFactory(build=work.build, code="W2", points=4)
    EstimateFactory(task=task, minutes=30)
    plan = ask_plan(by=owner, now=MOMENT, why="W2 came", quick=True)
    assert plan.edition == "B"
    assert "3 points become 7" in plan.change
    assert list(ShopPlan.objects.kept()) == [plan]
    assert ShopPlan.objects.count() == 2


def test_without_work_or_hours_there_is_nothing_to_plan(owner):
    with pytest.raises(BadInput, match="No task is open"):
        ask_plan(by=owner, now=MOMENT)
    TaskFactory()
    with pytest.raises(BadInput, match=r"No hours are entered after Fri 3 Sep"):
        ask_plan(by=owner, now=MOMENT)


def test_a_viewer_may_not_ask(viewer):
    with pytest.raises(NotAllowed):
        ask_plan(by=viewer, now=MOMENT)
