from datetime import datetime

import pytest

from fabshop.actions.task.after import set_after
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import After, Task
from tests.factories import AfterFactory, TaskFactory


def befores(task: Task) -> list[str]:
    return sorted(task.afters.values_list("before__code", flat=True))


def test_what_a_task_comes_after_is_set_as_a_whole(
    owner: Person, now: datetime
) -> None:
    task = TaskFactory(code="W22")
    AfterFactory(task=task, before=TaskFactory(code="W16"))
    TaskFactory(code="W20")
    set_after(by=owner, task=task, after=["W20", "W16", "W20"], now=now)
    assert befores(task) == ["W16", "W20"]
    assert LogEntry.objects.get().text == "After W16 W20"
    assert set_after(by=owner, task=task, after=[], now=now).version == 3
    assert befores(task) == []


def test_a_task_does_not_come_after_itself_or_after_nobody(
    owner: Person, helper: Person, now: datetime
) -> None:
    task = TaskFactory(code="W22")
    with pytest.raises(BadInput, match="W22 cannot come after itself"):
        set_after(by=owner, task=task, after=["W22"], now=now)
    with pytest.raises(BadInput, match="There is no task W99"):
        set_after(by=owner, task=task, after=["W99"], now=now)
    with pytest.raises(NotAllowed):
        set_after(by=helper, task=task, after=[], now=now)


def test_row_4_a_loop_is_refused_and_the_shortest_is_said(
    owner: Person, now: datetime
) -> None:
    a, b, c, d, e = (TaskFactory(code=f"W0{n}") for n in range(1, 6))
    for task, before in ((b, a), (c, b), (d, c), (e, d), (e, b)):
        AfterFactory(task=task, before=before)
    with pytest.raises(Clash) as refused:
        set_after(by=owner, task=a, after=[e], now=now)
    assert str(refused.value) == (
        "That would be a loop: W01 comes after W05 comes after W02 comes after W01. "
        "Leave one of these out."
    )
    assert (refused.value.code, refused.value.status) == ("loop", 409)
    assert not After.objects.filter(task=a).exists()


def test_two_tasks_that_each_wait_for_the_other_are_refused(
    owner: Person, now: datetime
) -> None:
    one, other = TaskFactory(code="W01"), TaskFactory(code="W02")
    set_after(by=owner, task=other, after=[one], now=now)
    with pytest.raises(Clash, match="W01 comes after W02 comes after W01"):
        set_after(by=owner, task=one, after=[other], now=now)
