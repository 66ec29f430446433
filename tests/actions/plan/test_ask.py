"""Asking keeps the question with its answer, and says why it cannot."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from fabshop.actions.plan import add_task_to_plan, ask_teardown
from fabshop.errors import BadInput, NotAllowed
from fabshop.records.build import Build
from fabshop.records.log import LogEntry
from fabshop.records.plan import Plan
from fabshop.records.shop import Person, Window
from fabshop.records.task import Task
from tests.factories import (
    BuildFactory,
    EstimateFactory,
    SiteFactory,
    StageFactory,
    TaskFactory,
)


def steps(plan: Plan) -> list[str]:
    found = plan.answer["sessions"][0]["steps"]
    return [f"{step['do']} {step['id']}" for step in found]


def test_the_answer_is_kept_as_it_was_reckoned(
    wren: Build, owner: Person, now: datetime
) -> None:
    plan = ask_teardown(by=owner, build=wren, now=now)
    assert steps(plan) == [
        "remove R01",
        "remove R02",
        "task W01",
        "refit R02",
        "refit R01",
    ]
    assert plan.state == "proposed"
    assert plan.edition == ""
    assert plan.answer["status"] == "optimal"
    assert plan.late_answer is not None
    assert plan.asked["tasks"] == ["W01"]
    assert len(plan.digest) == 64
    assert LogEntry.objects.filter(kind="planned", build=wren).count() == 1


def test_a_viewer_asks_nothing(wren: Build, viewer: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        ask_teardown(by=viewer, build=wren, now=now)


@pytest.mark.parametrize(
    ("asked", "field", "sentence"),
    [
        ({"tasks": ["W99"]}, "tasks", "No task is chosen"),
        ({"max_sessions": 4}, "max_sessions", "Choose 1 to 3"),
    ],
)
def test_what_cannot_be_asked_is_named(
    wren: Build,
    owner: Person,
    now: datetime,
    asked: dict[str, Any],
    field: str,
    sentence: str,
) -> None:
    with pytest.raises(BadInput, match=sentence) as refusal:
        ask_teardown(by=owner, build=wren, now=now, **asked)
    assert refusal.value.field == field
    assert Plan.objects.count() == 0


def test_row_14_no_bench_hours_is_a_sentence(
    wren: Build, owner: Person, now: datetime
) -> None:
    Window.objects.all().delete()
    with pytest.raises(BadInput, match="No bench hours") as refusal:
        ask_teardown(by=owner, build=wren, now=now)
    assert refusal.value.field == "hours"


def test_row_12_a_cure_longer_than_all_the_time_is_left_out_with_its_reason(
    wren: Build, owner: Person, now: datetime
) -> None:
    StageFactory(task=Task.objects.get(code="W01"), number=2, kind="cure", minutes=9000)
    plan = ask_teardown(by=owner, build=wren, now=now)
    assert plan.answer["sessions"] == []
    assert plan.answer["left_out"][0]["task"] == "W01"
    assert plan.answer["left_out"][0]["why"]


def test_one_task_more_is_asked_again_with_the_same_wishes(
    wren: Build, owner: Person, now: datetime
) -> None:
    plan = ask_teardown(by=owner, build=wren, now=now, prefer="early_finish")
    more = TaskFactory(build=wren, code="W02", family="other")
    EstimateFactory(task=more, minutes=20)
    SiteFactory(task=more, component=wren.components.get(code="R01"), kind="remove")
    again = add_task_to_plan(by=owner, plan=plan, task=more, now=now)
    assert again.pk != plan.pk
    assert again.asked["tasks"] == ["W01", "W02"]
    assert again.asked["prefer"] == "early_finish"
    with pytest.raises(BadInput, match="already"):
        add_task_to_plan(by=owner, plan=again, task=more, now=now)


def test_row_75_two_builds_never_get_the_same_hour(
    accepted: Plan, owner: Person, now: datetime
) -> None:
    """Row 75: one person, one calendar: no plan books an hour twice."""
    wren = accepted.build
    other = BuildFactory(slug="hawk", letter="H", pack_out_at=wren.pack_out_at)
    task = TaskFactory(build=other, code="W70", in_teardown=True)
    StageFactory(task=task, number=1, kind="hands-on", minutes=60)
    EstimateFactory(task=task, minutes=60)
    plan = ask_teardown(by=owner, build=other, now=now)
    (step,) = plan.answer["sessions"][0]["steps"]
    last = accepted.answer["sessions"][0]["steps"][-1]
    assert step["start"] >= last["finish"]
    assert f"The hours of {wren.name}, edition A, are left out" in plan.asked["notes"]
