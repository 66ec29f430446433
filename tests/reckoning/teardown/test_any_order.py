"""The latest start of a session whose steps may change places."""

from __future__ import annotations

from fabshop.reckoning.teardown.any_order import latest_start_any_order
from fabshop.reckoning.teardown.best import Budget
from fabshop.reckoning.teardown.choice import Step
from fabshop.reckoning.teardown.timing import Timing
from tests.reckoning.teardown.asked import problem
from tests.reckoning.teardown.test_last_aim import GLUE, PAINT, TEST


def test_glue_put_before_the_paint_can_begin_later() -> None:
    asked = problem(components=[], tasks=[PAINT, GLUE, TEST])
    plan = (tuple(Step("task", n, 0) for n in range(3)),)
    assert Timing(asked, plan).latest().begins == (50,)
    assert latest_start_any_order(asked, plan, 0, Budget(60)) == 150


def test_an_order_that_waits_for_nothing_is_the_latest_at_once() -> None:
    asked = problem(components=[], tasks=[PAINT])
    plan = ((Step("task", 0, 0),),)
    assert latest_start_any_order(asked, plan, 0, Budget(0)) == 260


def test_the_sessions_that_follow_keep_their_latest_times() -> None:
    asked = problem(components=[], tasks=[PAINT, GLUE, TEST])
    plan = ((Step("task", 0, 0), Step("task", 1, 0)), (Step("task", 2, 1),))
    late = Timing(asked, plan).latest().begins
    assert late == (50, 340)
    assert latest_start_any_order(asked, plan, 0, Budget(60)) == 150
    assert latest_start_any_order(asked, plan, 1, Budget(60)) == 340
