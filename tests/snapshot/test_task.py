"""Tasks are told with their latest guess, what was logged, and how holds stand."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from fabshop import words
from fabshop.reckoning.facts import (
    FallbackFact,
    FinishedTask,
    NeedFact,
    StageFact,
)
from fabshop.snapshot import plan_clock
from fabshop.snapshot.task import (
    finished_tasks,
    live_tasks,
    needed_lines,
    task_facts,
)
from tests.factories import (
    MOMENT,
    AfterFactory,
    BuildFactory,
    ComponentFactory,
    EstimateFactory,
    FallbackFactory,
    HoldSigningFactory,
    LogEntryFactory,
    MachineFactory,
    NeedFactory,
    OrderLineFactory,
    PersonFactory,
    RunFactory,
    ShopFactory,
    SiteFactory,
    StageFactory,
    TaskFactory,
    TimerFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def build(shop):
    return BuildFactory(slug="tuppence")


def told(build, code):
    tasks = live_tasks([build], MOMENT)
    facts = {f.id: f for f in task_facts(tasks, [build], plan_clock(MOMENT))}
    return facts[code]


def test_all_tasks_of_live_builds_are_read_and_open_or_late_shared_ones(build):
    long_ago = MOMENT - timedelta(days=91)
    done = words.TaskState.DONE
    TaskFactory(build=build, code="A")
    TaskFactory(build=build, code="B", state=done, done_at=long_ago)
    TaskFactory(build=None, code="C")
    TaskFactory(build=None, code="D", state=done, done_at=long_ago)
    TaskFactory(build=None, code="E", state=done, done_at=MOMENT)
    TaskFactory(build=BuildFactory(), code="F")
    assert sorted(t.code for t in live_tasks([build], MOMENT)) == ["A", "B", "C", "E"]


def test_the_latest_guess_counts(build):
    task = TaskFactory(build=build, code="A")
    EstimateFactory(task=task, minutes=90, made_at=MOMENT)
    EstimateFactory(task=task, minutes=60, made_at=MOMENT - timedelta(days=1))
    assert told(build, "A").minutes == 90
    TaskFactory(build=build, code="B")
    assert told(build, "B").minutes == 0


def test_logged_minutes_add_up_and_what_was_undone_books_nothing(build):
    task = TaskFactory(build=build, code="A")
    for minutes in (20, 30):
        LogEntryFactory(task=task, kind=words.EntryKind.STOP, minutes=minutes)
    wrong = LogEntryFactory(task=task, kind=words.EntryKind.STOP, minutes=500)
    LogEntryFactory(task=task, kind=words.EntryKind.UNDO, reverses=wrong)
    assert told(build, "A").logged == 50


def test_what_a_machine_has_done_or_is_on_is_not_ahead_of_a_task_again(build):
    """A print that came out was begun again in the plan, and offered for tonight."""
    task = TaskFactory(build=build, code="W51")
    other = TaskFactory(build=build, code="W52")
    printer = MachineFactory(code="small", name="Small printer")
    kinds = words.StageKind
    for one in (task, other):
        StageFactory(task=one, number=1, kind=kinds.HANDS_ON, minutes=5)
        StageFactory(task=one, number=2, kind=kinds.RUN, minutes=540, machine=printer)
        StageFactory(task=one, number=3, kind=kinds.HANDS_ON, minutes=55)
    failed, came_out = words.RunVerdict.FAILED, words.RunVerdict.CAME_OUT
    over = MOMENT + timedelta(hours=9)
    RunFactory(task=task, verdict=failed, ended_at=over, cause="came loose")
    assert len(told(build, "W51").stages) == 3, "what failed is to be done again"
    RunFactory(task=task, machine=printer, verdict=came_out, ended_at=over)
    on = RunFactory(task=other, machine=printer)
    for code in ("W51", "W52"):
        assert told(build, code).stages == (StageFact(kinds.HANDS_ON, 55),)
    assert told(build, "W51").run is None
    run = told(build, "W52").run
    assert (run.id, run.machine, run.name) == (on.pk, "small", "Small printer")


def test_a_task_is_told_with_its_stages_and_what_it_comes_after(build):
    task = TaskFactory(build=build, code="A", left_minutes=15, points=4)
    StageFactory(task=task, number=2, kind=words.StageKind.CURE, minutes=600)
    printer = MachineFactory(code="print-A")
    StageFactory(
        task=task, number=1, kind=words.StageKind.RUN, minutes=840, machine=printer
    )
    for code in ("Z", "B"):
        AfterFactory(task=task, before=TaskFactory(build=build, code=code))
    way = FallbackFactory(task=task, title="clips", minutes=12, chosen_at=MOMENT)
    fact = told(build, "A")
    assert fact.stages == (
        StageFact(words.StageKind.RUN, 840, "print-A"),
        StageFact(words.StageKind.CURE, 600),
    )
    assert fact.after == ("B", "Z")
    assert (fact.left, fact.points, fact.build) == (15, 4, "tuppence")
    assert fact.fallbacks == (FallbackFact("clips", 12, chosen=True, pk=way.pk),)


def test_sites_are_told_by_what_they_are_without_what_is_retired(build):
    task = TaskFactory(build=build, code="A")
    for code, kind in (
        ("T2", words.SiteKind.FITS),
        ("T1", words.SiteKind.FITS),
        ("T3", words.SiteKind.REACH),
        ("T4", words.SiteKind.REMOVE),
        ("T5", words.SiteKind.KEEPS_OPEN),
        ("T6", words.SiteKind.OPENS),
    ):
        SiteFactory(
            task=task, component=ComponentFactory(build=build, code=code), kind=kind
        )
    retired = ComponentFactory(
        build=build, is_on=False, state=words.ComponentState.RETIRED
    )
    SiteFactory(task=task, component=retired)
    fact = told(build, "A")
    assert (fact.fits, fact.reach, fact.remove) == (("T1", "T2"), ("T3",), ("T4",))
    assert (fact.keeps_open, fact.opens) == (("T5",), ("T6",))


def test_needs_name_a_line_the_rack_or_a_tool(build):
    task = TaskFactory(build=build, code="A")
    line = OrderLineFactory(order__code="P14", number=2)
    NeedFactory(task=task, line=line, quantity_milli=14_000)
    NeedFactory(task=task, kind=words.NeedKind.RACK, line=None, rack_code="C01")
    assert told(build, "A").needs == (
        NeedFact(words.NeedKind.ORDER, "P14/2", 14_000),
        NeedFact(words.NeedKind.RACK, "C01"),
    )
    assert needed_lines([task]) == [line.pk]
    assert needed_lines([]) == []


def test_a_hold_stands_as_its_signings_say(build):
    task = TaskFactory(build=build, code="A", is_hold=True)
    assert told(build, "A").hold is None
    HoldSigningFactory(task=task, verdict=words.HoldVerdict.FAILED, seen_version=2)
    assert told(build, "A").hold is words.HoldVerdict.FAILED
    HoldSigningFactory(task=task, seen_version=1)
    assert told(build, "A").hold is words.HoldVerdict.FAILED
    HoldSigningFactory(task=task, seen_version=2)
    assert told(build, "A").hold is words.HoldVerdict.SIGNED


def test_who_is_at_it_and_until_when_it_cures_is_told(build):
    task = TaskFactory(build=build, code="A", cured_at=MOMENT)
    for name in ("Olive", "Hal"):
        TimerFactory(person=PersonFactory(name=name), start__task=task)
    fact = told(build, "A")
    assert sorted(fact.under_way_by) == ["Hal", "Olive"]
    assert fact.cured_at == datetime(2027, 9, 3, 6, 45)


def finish(minutes, logged, *, family="welding", days=0, guessed=False):
    task = TaskFactory(
        build=BuildFactory(state=words.BuildState.CLOSED),
        family=family,
        state=words.TaskState.DONE,
        done_at=MOMENT - timedelta(days=days),
    )
    EstimateFactory(task=task, minutes=minutes, is_guessed=guessed)
    EstimateFactory(task=task, minutes=999, made_at=MOMENT + timedelta(days=1))
    if logged:
        LogEntryFactory(task=task, kind=words.EntryKind.STOP, minutes=logged)
    return task


def test_finished_tasks_tell_their_first_guess_and_what_was_logged():
    ShopFactory()
    finish(60, 66)
    finish(60, 0)
    TaskFactory(state=words.TaskState.GIVEN_UP)
    assert finished_tasks() == (FinishedTask("welding", 60, 66),)


def test_a_guess_filled_in_by_the_shop_is_no_first_guess():
    ShopFactory()
    finish(60, 66, guessed=True)
    assert finished_tasks() == (FinishedTask("welding", 999, 66),)


def test_the_latest_twenty_of_each_family_teach():
    ShopFactory()
    for days in range(22):
        finish(60, 60 + days, days=days)
    finish(60, 30, family="rare", days=3000)
    told = finished_tasks()
    assert len(told) == 21
    logged = [task.logged for task in told if task.family == "welding"]
    assert sorted(logged) == list(range(60, 80))
    assert FinishedTask("rare", 60, 30) in told
