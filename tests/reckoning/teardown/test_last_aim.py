"""The order that ends first, and the one that can wait longest."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.teardown.best import Best, Budget
from fabshop.reckoning.teardown.last_aim import latest_start_of
from fabshop.reckoning.teardown.plan import best_plan
from tests.reckoning.teardown.asked import problem

# Glue that dries overnight, work that does not care, and a test of the glued joint.
GLUE = {"id": "glue", "minutes": 30, "cure": 600}
PAINT = {"id": "paint", "minutes": 100}
TEST = {"id": "test", "minutes": 20, "after": ["glue"]}


def last(prefer: str, **changes: Any) -> tuple[Best, int]:
    asked = problem(components=[], tasks=[PAINT, GLUE, TEST], prefer=prefer, **changes)
    found = best_plan(asked, 1, Budget(60), ())
    return found, latest_start_of(asked, found.plan)


def test_glue_first_waits_for_nothing_but_the_night() -> None:
    found, _ = last("early_finish")
    assert found.aims[-1].name == "finish"
    assert (found.aims[-1].reached, found.gap) == (200, None)


def test_the_glue_can_be_put_off_until_it_just_dries_overnight() -> None:
    found, latest = last("late_start")
    # Glued by Monday 21:00, painted and tested on Tuesday by 21:00.
    assert latest == 150
    assert [aim.name for aim in found.aims[-2:]] == ["latest_start", "finish"]
    assert found.gap is None
