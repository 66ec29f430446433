"""Each contradiction is named, and a shop without one is said to have none."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from io import StringIO

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from fabshop import words
from fabshop.actions.log import start_work, stop_work, undo_entry
from fabshop.console.audit import CHECKS, contradictions
from fabshop.console.audit_drawing import DRAWING_CHECKS
from fabshop.console.audit_frame import FRAME_CHECKS
from fabshop.console.audit_joint import JOINT_CHECKS
from fabshop.console.audit_overnight import OVERNIGHT_CHECKS
from fabshop.console.audit_schedule import SCHEDULE_CHECKS
from fabshop.console.audit_shelf import SHELF_CHECKS
from fabshop.console.audit_stock import RACK_CHECKS
from fabshop.records.build import Component
from fabshop.records.shop import Person, Shop
from tests.factories import (
    MOMENT,
    AfterFactory,
    ComponentFactory,
    CoverFactory,
    HoldSigningFactory,
    LogEntryFactory,
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    PersonFactory,
    PhotoFactory,
    ReceiptFactory,
    SendingFactory,
    SettlementFactory,
    SiteFactory,
    TaskFactory,
    TimerFactory,
)

pytestmark = pytest.mark.django_db
DONE = words.TaskState.DONE


def cover_loop() -> None:
    lid, deck = ComponentFactory(code="T1"), ComponentFactory(code="T2")
    Component.objects.update(build=lid.build)
    CoverFactory(under=lid, cover=deck)
    CoverFactory(under=deck, cover=lid)


def cover_across_builds() -> None:
    CoverFactory(
        under=ComponentFactory(code="T1", name="Lid", build__name="Tuppence"),
        cover=ComponentFactory(code="G1", name="Bar", build__name="Gannet"),
    )


def twin_one_sided() -> None:
    twin = ComponentFactory(code="T2", name="Duct")
    ComponentFactory(code="T1", name="Duct", twin=twin)


def twins_of_two_builds() -> None:
    one, other = ComponentFactory(code="T1"), ComponentFactory(code="G1")
    for part, twin in ((one, other), (other, one)):
        Component.objects.filter(pk=part.pk).update(twin=twin, name="Duct")


def twins_of_one_side() -> None:
    one = ComponentFactory(code="T1", name="Duct", side="L")
    other = ComponentFactory(code="T2", name="Duct", side="L", build=one.build)
    for part, twin in ((one, other), (other, one)):
        Component.objects.filter(pk=part.pk).update(twin=twin)


def task_loop() -> None:
    one, two, three = (TaskFactory(code=code) for code in ("W1", "W2", "W3"))
    for task, before in ((one, two), (two, one), (three, one)):
        AfterFactory(task=task, before=before)


def done_too_early() -> None:
    AfterFactory(
        task=TaskFactory(code="W5", title="Trim", state=DONE),
        before=TaskFactory(code="W4", title="Lay up"),
    )


def hold_done_unsigned() -> None:
    hold = TaskFactory(code="W9", title="Test", is_hold=True, state=DONE)
    HoldSigningFactory(task=hold, verdict="failed", reason="no light")


def fitted_but_missing() -> None:
    task = TaskFactory(code="W1", title="Fit bar", state=DONE)
    gone = ComponentFactory(
        code="T29", name="Bar", state="missing", is_on=False, build=task.build
    )
    SiteFactory(task=task, component=gone)


def site_across_builds() -> None:
    SiteFactory(
        task=TaskFactory(code="W1", title="Fit bar", build__name="Tuppence"),
        component=ComponentFactory(code="G1", name="Bar", build__name="Gannet"),
    )


def settled_beyond_what_was_ordered() -> None:
    line = OrderLineFactory(order__code="P1", title="Duct", quantity_milli=1000)
    ReceiptFactory(line=line)
    SettlementFactory(line=line)


def order_done_but_owed() -> None:
    OrderLineFactory(order__code="P1", order__title="Ducts", order__move="done")


def order_sent_another_day() -> None:
    order = OrderFactory(code="P1", title="Ducts", sent_on=date(2027, 8, 31))
    SendingFactory(order=order, sent_on=date(2027, 8, 30))


def need_beyond_line() -> None:
    line = OrderLineFactory(order__code="P1", title="Duct", quantity_milli=1000)
    task = TaskFactory(code="W1", title="Rivet")
    NeedFactory(task=task, line=line, quantity_milli=2000)


def timer_of_a_stopped_start() -> None:
    hal = PersonFactory(name="Hal")
    timer = TimerFactory(person=hal, start__task__code="W1", start__task__title="Weld")
    LogEntryFactory(kind=words.EntryKind.STOP, started_by=timer.start)


def timer_on_what_is_done() -> None:
    TimerFactory(
        person=PersonFactory(name="Hal"),
        start__task=TaskFactory(code="W1", title="Weld", state=DONE),
    )


def timer_of_another() -> None:
    TimerFactory(person=PersonFactory(name="Hal"), start=LogEntryFactory())


def start_without_end() -> None:
    LogEntryFactory(
        kind=words.EntryKind.START,
        person=PersonFactory(name="Hal"),
        task=TaskFactory(code="W1", title="Weld"),
    )


def under_way_by_nobody() -> None:
    TaskFactory(code="W1", title="Weld", state=words.TaskState.UNDER_WAY)


def photo_without_file() -> None:
    PhotoFactory(digest="ab" * 32, file="photos/ab.jpg", thumb="")


SAID: dict[Callable[[], None], str] = {
    cover_loop: "cover-loop: T1 lies under T2, which lies under T1.",
    cover_across_builds: (
        "cover-across-builds: T1 Lid on Tuppence lies under G1 Bar on Gannet."
    ),
    twin_one_sided: (
        "twin-one-sided: T1 Duct has T2 Duct for its twin, but not the other way round."
    ),
    twins_of_two_builds: (
        "twin-one-sided: G1 Duct and its twin T1 Duct are on two builds."
    ),
    twins_of_one_side: (
        "twin-one-sided: T1 Duct and its twin T2 Duct are both the left one."
    ),
    task_loop: "task-loop: W1, W2 wait for each other.",
    done_too_early: (
        "done-too-early: W5 Trim is done, though W4 Lay up comes before it and is not."
    ),
    hold_done_unsigned: (
        "hold-done-unsigned: W9 Test is done, though nobody has signed or waived it."
    ),
    fitted_but_missing: (
        "fitted-but-missing: W1 Fit bar is done, though T29 Bar, which it fits, is "
        "missing."
    ),
    site_across_builds: (
        "site-across-builds: W1 Fit bar on Tuppence works on G1 Bar on Gannet."
    ),
    settled_beyond_what_was_ordered: (
        "counts-do-not-add-up: P1/1 Duct: more was accepted and written off than "
        "ordered."
    ),
    order_done_but_owed: (
        "order-done-but-owed: P1 Ducts is done, though line 1 of it is still owed."
    ),
    order_sent_another_day: (
        "order-sent-another-day: P1 Ducts is sent on 2027-08-31, though its last "
        "sending is of 2027-08-30."
    ),
    need_beyond_line: ("need-beyond-line: W1 Rivet needs more than is on P1/1 Duct."),
    timer_of_a_stopped_start: (
        "timer-of-what-has-ended: The timer of Hal on W1 Weld runs, though that start "
        "was stopped."
    ),
    timer_on_what_is_done: (
        "timer-of-what-has-ended: The timer of Hal runs on W1 Weld, which is done."
    ),
    timer_of_another: (
        "timer-of-what-has-ended: The timer of Hal does not run from a start of theirs."
    ),
    start_without_end: (
        "start-without-end: Hal started W1 Weld on 2027-09-03 05:45 UTC; no stop ends "
        "it and no timer runs."
    ),
    under_way_by_nobody: (
        "under-way-by-nobody: W1 Weld is under way, though nobody's timer runs on it."
    ),
    photo_without_file: (
        "photo-without-file: Photo abababababab: the file photos/ab.jpg is gone."
    ),
}


@pytest.mark.parametrize("spoil", SAID, ids=lambda spoil: spoil.__name__)
def test_a_contradiction_is_named_in_one_sentence(spoil: Callable[[], None]) -> None:
    spoil()
    assert [str(one) for one in contradictions()] == [SAID[spoil]]


# Each of these has a file of its own, and its test.
ELSEWHERE = {
    **RACK_CHECKS,
    **SHELF_CHECKS,
    **FRAME_CHECKS,
    **JOINT_CHECKS,
    **OVERNIGHT_CHECKS,
    **DRAWING_CHECKS,
    **SCHEDULE_CHECKS,
}


def test_every_check_finds_something() -> None:
    found = {said.partition(":")[0] for said in SAID.values()}
    assert found == set(CHECKS) - set(ELSEWHERE)


def test_the_demo_contradicts_nothing(demo: Shop) -> None:
    assert contradictions() == []


def test_work_started_stopped_and_undone_contradicts_nothing(owner: Person) -> None:
    task = TaskFactory()
    start_work(by=owner, task=task, now=MOMENT)
    assert contradictions() == []
    stop = stop_work(by=owner, now=MOMENT, minutes=0)
    assert contradictions() == []
    undo_entry(by=owner, entry=stop, now=MOMENT)
    assert contradictions() == []


def test_the_command_says_that_there_is_none() -> None:
    out = StringIO()
    call_command("audit", stdout=out)
    assert out.getvalue() == f"No contradictions; {len(CHECKS)} kinds looked for.\n"


def test_the_command_names_them_and_ends_with_one() -> None:
    task_loop()
    done_too_early()
    out = StringIO()
    with pytest.raises(CommandError, match="2 contradictions.") as ended:
        call_command("audit", stdout=out)
    assert ended.value.returncode == 1
    assert [line.partition(":")[0] for line in out.getvalue().splitlines()] == [
        "task-loop",
        "done-too-early",
    ]
