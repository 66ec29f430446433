from datetime import datetime
from typing import Any

import pytest

from fabshop import words
from fabshop.actions.task.define import add_task, change_task, family_minutes
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import (
    BuildFactory,
    ComponentFactory,
    EstimateFactory,
    OrderFactory,
    OrderLineFactory,
    SiteFactory,
    StageFactory,
    TaskFactory,
)


def add(by: Person, now: datetime, **fields: Any) -> Task:
    return add_task(by=by, now=now, **({"code": "W24", "title": "Bond"} | fields))


def guesses(task: Task) -> list[tuple[int, bool]]:
    return list(task.estimates.values_list("minutes", "is_guessed"))


def test_a_task_is_added_with_all_that_belongs_to_it(
    owner: Person, now: datetime
) -> None:
    build = BuildFactory()
    part = ComponentFactory(build=build, code="T33")
    felt = OrderLineFactory(order=OrderFactory(code="P09"))
    TaskFactory(code="W20")
    task = add(
        owner,
        now,
        build=build,
        family="composite",
        minutes=36,
        is_hold=True,
        points=-4,
        stages=[
            {"kind": "hands-on", "minutes": 30},
            {"kind": "cure", "minutes": 600},
        ],
        after=["W20"],
        needs=[{"kind": "order", "line": "P09/1"}],
        sites=[("fits", "T33")],
        readings=[{"label": "Stuck", "kind": "tick"}],
        fallbacks=[{"title": "Rivet", "minutes": 24, "points": 1}],
        client_id="t",
    )
    assert (task.points, task.state) == (-4, words.TaskState.OPEN)
    assert guesses(task) == [(36, False)]
    assert [(s.kind, s.minutes) for s in task.stages.all()] == [
        ("hands-on", 36),
        ("cure", 600),
    ]
    assert task.needs.get().line == felt
    assert task.sites.get().component == part
    assert task.afters.get().before.code == "W20"
    assert (task.readings.get().label, task.fallbacks.get().title) == ("Stuck", "Rivet")
    assert LogEntry.objects.get().text == "Task added: W24 Bond"
    assert add(owner, now, client_id="t") == task


def test_row_52_a_blank_guess_is_the_middle_of_its_family_and_says_so(
    owner: Person, now: datetime
) -> None:
    for minutes in (30, 51, 200, 40):
        EstimateFactory(task__family="welding", minutes=minutes)
    EstimateFactory(task__family="welding", minutes=999, is_guessed=True)
    assert family_minutes("welding") == 46
    assert guesses(add(owner, now, family="welding")) == [(46, True)]
    assert guesses(add(owner, now, code="W25", family="paint")) == []


def test_the_hands_on_stages_are_a_guess_too(owner: Person, now: datetime) -> None:
    stages = [{"kind": "hands-on", "minutes": 20}, {"kind": "run", "minutes": 800}]
    assert guesses(add(owner, now, stages=stages)) == [(20, False)]


def test_row_52_no_minutes_at_all_asks(owner: Person, now: datetime) -> None:
    with pytest.raises(NeedsAnswer, match="W24 takes no minutes of hands at all"):
        add(owner, now, minutes=0)
    assert guesses(add(owner, now, minutes=0, confirm=True)) == [(0, False)]
    run = [{"kind": "run", "minutes": 900}]
    assert guesses(add(owner, now, code="W25", minutes=0, stages=run)) == [(0, False)]


@pytest.mark.parametrize(
    ("fields", "why"),
    [
        ({"title": ""}, "What: nothing is written"),
        ({"minutes": -1}, "Hands-on: -1 is less than nothing"),
        ({"points": 99_999}, "Points: 99999 is more than can be"),
        ({"code": "W 24"}, "“W 24” will not do"),
        ({"state": "done"}, "A task has no state"),
    ],
)
def test_what_cannot_be_is_refused_by_name(
    owner: Person, now: datetime, fields: dict[str, Any], why: str
) -> None:
    with pytest.raises(BadInput, match=why):
        add(owner, now, **fields)
    assert not Task.objects.exists()


def test_a_code_is_given_once_and_only_by_the_owner(
    owner: Person, helper: Person, now: datetime
) -> None:
    add(owner, now)
    with pytest.raises(Clash, match="There is a task W24 already"):
        add(owner, now)
    with pytest.raises(NotAllowed):
        add(helper, now, code="W25")


def test_a_new_guess_stands_beside_the_old_ones(owner: Person, now: datetime) -> None:
    task = add(owner, now, minutes=36)
    StageFactory(task=task, minutes=36)
    changed = change_task(
        by=owner,
        task=task,
        version=1,
        now=now,
        minutes=50,
        title="Bond it",
        points=None,
    )
    assert (changed.title, changed.version) == ("Bond it", 2)
    assert guesses(task) == [(36, False), (50, False)]
    assert task.stages.get().minutes == 50
    entry = LogEntry.objects.get(text__startswith="Changed")
    assert entry.text == "Changed: title, guess 36 to 50 min"
    same = change_task(by=owner, task=task, version=2, now=now, minutes=50)
    assert same.version == 2


def test_a_change_of_what_moved_or_of_nothing_to_do_is_refused(
    owner: Person, now: datetime
) -> None:
    task = TaskFactory(code="W24", title="Bond", version=2)
    with pytest.raises(Clash, match="W24 Bond has changed since you read it"):
        change_task(by=owner, task=task, version=1, now=now, title="x")
    with pytest.raises(NeedsAnswer, match="no minutes of hands"):
        change_task(by=owner, task=task, version=2, now=now, minutes=0)


def test_a_task_moves_to_another_build_without_its_places_there(
    owner: Person, now: datetime
) -> None:
    site = SiteFactory(component__code="T33", component__name="Shield")
    task, other = site.task, BuildFactory()
    with pytest.raises(Clash, match="works at T33 Shield, which is on another build"):
        change_task(by=owner, task=task, version=1, now=now, build=other)
    task.sites.all().delete()
    change_task(by=owner, task=task, version=1, now=now, build=other)
    task.refresh_from_db()
    assert task.build == other
