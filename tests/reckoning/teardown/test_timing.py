"""The two extreme schedules of a fixed order, worked by hand."""

from __future__ import annotations

from fabshop.reckoning.teardown.choice import Step
from fabshop.reckoning.teardown.timing import Timing, step_minutes, ticks_of
from tests.reckoning.teardown.asked import LOOM, problem

PLAN = (
    (
        Step("remove", 0, 0),
        Step("remove", 1, 0),
        Step("task", 0, 0),
        Step("refit", 1, 0),
        Step("refit", 0, 0),
    ),
)


def test_without_cures_nothing_waits_and_the_latest_is_the_end_less_the_work() -> None:
    timing = Timing(problem(setup_minutes=5), PLAN)
    early, late = timing.earliest(), timing.latest()
    assert early is not None
    assert (early.begins, early.starts) == ((0,), ((5, 9, 15, 45, 54),))
    assert late.begins == (300,)


def test_row_13_a_cure_runs_on_out_of_hours_and_is_no_bench_time() -> None:
    gluing = {**LOOM, "cure": 600, "keeps_open": ["deck"]}
    timing = Timing(problem(tasks=[gluing]), PLAN)
    early, late = timing.earliest(), timing.latest()
    assert early is not None
    # Glued by 18:40, cured by 04:40: the refit is the first thing on Tuesday.
    assert early.starts == ((0, 4, 10, 180, 189),)
    assert timing.cured_clock(PLAN[0][3]) == timing.problem.axis.windows[0][0] + 640
    # On Monday it can wait until it ends at 21:00; Tuesday 07:00 is still in time.
    assert late.begins == (140,)


def test_an_order_that_runs_out_of_hours_has_no_times() -> None:
    long = problem(tasks=[{**LOOM, "minutes": 340}])
    assert Timing(long, PLAN).earliest() is None


def test_unbroken_work_is_moved_into_one_window_both_ways() -> None:
    timing = Timing(problem(tasks=[{**LOOM, "minutes": 175, "unbroken": True}]), PLAN)
    early = timing.earliest()
    assert early is None
    timing = Timing(problem(tasks=[{**LOOM, "minutes": 160, "unbroken": True}]), PLAN)
    early, late = timing.earliest(), timing.latest()
    assert early is not None
    assert early.starts[0][2] == 10
    assert late.starts[0][2] == 185


def test_instant_steps_have_ticks_of_their_own() -> None:
    asked = problem(components=[{"id": "lid", "off": 0, "on": 0}], tasks=[
        {"id": "loom", "minutes": 5, "remove": ["lid"]}])  # fmt: skip
    plan = ((Step("remove", 0, 0), Step("task", 0, 0), Step("refit", 0, 0)),)
    early = Timing(asked, plan).earliest()
    assert early is not None
    assert [step_minutes(asked, step) for step in plan[0]] == [0, 5, 0]
    assert list(ticks_of(asked, plan, early, 3).values()) == [0, 1, 16]
