from datetime import datetime, timedelta

import pytest

from fabshop import words
from fabshop.actions.moved import Before, move, put_back
from fabshop.errors import Clash
from fabshop.records.task import Task
from tests.factories import TaskFactory

pytestmark = pytest.mark.django_db


def test_a_move_raises_the_version_and_can_be_put_back(now: datetime) -> None:
    task = TaskFactory(cured_at=now, left_minutes=None)
    before: Before = {}
    move(task, before, state=words.TaskState.DONE, cured_at=now + timedelta(hours=1))
    move(task, before, left_minutes=5)
    assert Task.objects.get().version == 3
    put_back(before)
    back = Task.objects.get()
    assert back.state == words.TaskState.OPEN
    assert back.cured_at == now
    assert back.left_minutes is None
    assert back.version == 5


def test_what_has_moved_since_is_not_put_back(now: datetime) -> None:
    task = TaskFactory(code="W1", title="Weld")
    before: Before = {}
    move(task, before, state=words.TaskState.DONE)
    move(task, {}, left_minutes=5)
    with pytest.raises(Clash, match="W1 Weld has changed since"):
        put_back(before)
    assert Task.objects.get().state == words.TaskState.DONE
