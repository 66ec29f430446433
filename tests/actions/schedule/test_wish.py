"""What must be had, and how that is taken back."""

from __future__ import annotations

import pytest

from fabshop.actions.schedule import wish
from fabshop.errors import Clash, NotAllowed
from fabshop.records.log import LogEntry
from tests.factories import MOMENT, FallbackFactory, TaskFactory

pytestmark = pytest.mark.django_db


def test_a_wish_takes_a_plan_b_back(owner):
    task = TaskFactory()
    way = FallbackFactory(task=task, chosen_at=MOMENT)
    wish(by=owner, task=task, now=MOMENT, client_id="one")
    wish(by=owner, task=task, now=MOMENT, client_id="one")
    task.refresh_from_db()
    way.refresh_from_db()
    assert (task.wished_at, way.chosen_at) == (MOMENT, None)
    assert LogEntry.objects.filter(text="Must have it").count() == 1


def test_it_is_taken_back(owner):
    task = TaskFactory(wished_at=MOMENT)
    wish(by=owner, task=task, wished=False, now=MOMENT)
    task.refresh_from_db()
    assert task.wished_at is None


def test_only_the_owner_wishes_and_only_for_what_is_open(owner, helper):
    with pytest.raises(NotAllowed):
        wish(by=helper, task=TaskFactory(), now=MOMENT)
    with pytest.raises(Clash):
        wish(by=owner, task=TaskFactory(state="done"), now=MOMENT)
