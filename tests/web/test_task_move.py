"""Plan B is taken and left again, a task given up; both stay in its log."""

from datetime import timedelta

import pytest

from fabshop import words
from tests.factories import BuildFactory, FallbackFactory, TaskFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def way(shop):
    task = TaskFactory(code="W21", title="Fit power board", build=BuildFactory())
    return FallbackFactory(task=task, title="Spare board SP2")


def test_row_72_plan_b_is_taken_and_left_again(client, owner, way):
    """Row 72: swap back to the final; the fallback's words stay in the log."""
    client.force_login(owner)
    answer = client.post(f"/tasks/W21/plan-b/{way.pk}/", follow=True)
    assert "Plan B for W21: Spare board SP2." in answer.text
    assert "Back to the final way" in answer.text
    taken = client.post(f"/tasks/W21/plan-b/{way.pk}/", {"chosen": "yes"}, follow=True)
    assert "Plan B for W21: Spare board SP2." in taken.text, "two who take it have it"
    told = {"chosen": "no"}
    answer = client.post(f"/tasks/W21/plan-b/{way.pk}/", told, follow=True)
    assert "W21 goes its final way again." in answer.text
    assert answer.text.count("Plan B") >= 2


def test_row_71_a_plan_b_that_is_too_late_asks_first(page, way, now):
    """Row 71: a fallback chosen after its own last moment says so and waits."""
    way.task.build.pack_out_at = now - timedelta(hours=1)
    way.task.build.save()
    answer = page.post(f"/tasks/W21/plan-b/{way.pk}/")
    assert answer.status_code == 409
    assert "no longer possible, needs" in answer.text
    assert 'name="confirm"' in answer.text
    page.post(f"/tasks/W21/plan-b/{way.pk}/", {"confirm": "yes"})
    way.refresh_from_db()
    assert way.chosen_at is not None


def test_a_task_is_given_up_and_opened_again(client, owner, way):
    client.force_login(owner)
    client.post("/tasks/W21/give-up/")
    way.task.refresh_from_db()
    assert way.task.state == words.TaskState.GIVEN_UP
    answer = client.post("/tasks/W21/reopen/", follow=True)
    assert "W21 is open again." in answer.text


def test_a_helper_gives_nothing_up(client, helper, way):
    client.force_login(helper)
    assert client.post("/tasks/W21/give-up/").status_code == 403
    assert client.post(f"/tasks/W21/plan-b/{way.pk}/").status_code == 403
