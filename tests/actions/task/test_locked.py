import pytest

from fabshop.actions.task.locked import refuse_moved, task_of
from fabshop.errors import Clash
from tests.factories import LogEntryFactory, TaskFactory

pytestmark = pytest.mark.django_db


def test_the_first_answer_is_the_task_of_the_entry() -> None:
    task = TaskFactory()
    assert task_of(LogEntryFactory(task=task)) == task
    with pytest.raises(Clash, match="already used for something else"):
        task_of(LogEntryFactory(task=None))


def test_a_task_that_moved_since_it_was_read_is_said_so() -> None:
    task = TaskFactory(code="W14", title="Fit ducts", version=4)
    refuse_moved(task, 4)
    with pytest.raises(Clash, match="W14 Fit ducts has changed since you read it"):
        refuse_moved(task, 3)
