"""An idea says something, and is taken up or wiped off, never both."""

from __future__ import annotations

import pytest

from fabshop.records.idea import Idea
from tests.factories import MOMENT, PersonFactory, TaskFactory
from tests.records.refused import refused

pytestmark = pytest.mark.django_db


def test_an_empty_idea_is_refused() -> None:
    with refused("idea_says_something"):
        Idea.objects.create(text="", person=PersonFactory(), at=MOMENT, client_id="a")


def test_what_was_taken_up_is_not_wiped_off() -> None:
    with refused("idea_is_taken_up_or_wiped_off"):
        Idea.objects.create(
            text="Brass lamp rings",
            person=PersonFactory(),
            at=MOMENT,
            client_id="a",
            task=TaskFactory(),
            wiped_at=MOMENT,
        )
