from collections.abc import Callable

import pytest

from fabshop.records.task import HoldSigning, Task, hold_verdict
from fabshop.words import HoldVerdict
from tests.factories import (
    AfterFactory,
    HoldSigningFactory,
    MachineFactory,
    NeedFactory,
    ReadingFactory,
    SiteFactory,
    StageFactory,
    TaskFactory,
)
from tests.records.refused import refused

pytestmark = pytest.mark.django_db
Say = Callable[..., HoldSigning]


@pytest.fixture
def hold() -> Task:
    return TaskFactory(is_hold=True)


@pytest.fixture
def say(hold: Task) -> Say:
    def said(verdict: str, seen: int = 1, **fields: object) -> HoldSigning:
        reason = "said" if verdict == "waived" else ""
        return HoldSigningFactory(
            task=hold, verdict=verdict, seen_version=seen, reason=reason, **fields
        )

    return said


def test_a_hold_that_nobody_spoke_of_reads_nothing(hold: Task) -> None:
    assert hold_verdict(hold.signings.all()) is None


def test_the_last_word_holds_where_nothing_failed(hold: Task, say: Say) -> None:
    say("signed")
    assert hold_verdict(hold.signings.all()) is HoldVerdict.SIGNED
    say("waived")
    assert hold_verdict(hold.signings.all()) is HoldVerdict.WAIVED


def test_a_fail_stands_until_somebody_signs_who_had_seen_it(
    hold: Task, say: Say
) -> None:
    say("signed", seen=1)
    say("failed", seen=3)
    say("signed", seen=2)
    assert hold_verdict(hold.signings.all()) is HoldVerdict.FAILED
    say("signed", seen=3)
    assert hold_verdict(hold.signings.all()) is HoldVerdict.SIGNED


def test_a_signing_that_came_before_a_fail_does_not_cover_it(
    hold: Task, say: Say
) -> None:
    say("signed", seen=5)
    say("failed", seen=5)
    assert hold_verdict(hold.signings.all()) is HoldVerdict.FAILED


def test_what_was_taken_back_says_nothing(hold: Task, say: Say) -> None:
    say("failed", is_taken_back=True)
    say("signed")
    assert hold_verdict(hold.signings.all()) is HoldVerdict.SIGNED
    hold.signings.update(is_taken_back=True)
    assert hold_verdict(hold.signings.all()) is None


@pytest.mark.parametrize(
    ("check", "make", "fields"),
    [
        ("task_state_known", TaskFactory, {"state": "dreamt"}),
        ("stage_kind_known", StageFactory, {"kind": "nap"}),
        ("need_names_what_it_needs", NeedFactory, {"kind": "order", "line": None}),
        ("site_kind_known", SiteFactory, {"kind": "near"}),
        ("reading_kind_known", ReadingFactory, {"kind": "smell"}),
        ("hold_verdict_known", HoldSigningFactory, {"verdict": "maybe"}),
        (
            "hold_waived_with_a_reason",
            HoldSigningFactory,
            {"verdict": "waived", "reason": ""},
        ),
    ],
)
def test_what_a_database_refuses_of_tasks(
    check: str, make: Callable[..., object], fields: dict[str, object]
) -> None:
    with refused(check):
        make(**fields)


def test_only_a_run_needs_a_machine() -> None:
    with refused("stage_machine_only_for_a_run"):
        StageFactory(kind="cure", machine=MachineFactory())


def test_a_task_does_not_come_after_itself() -> None:
    task = TaskFactory()
    with refused("after_is_not_itself"):
        AfterFactory(task=task, before=task)


def test_what_comes_before_is_said_once() -> None:
    after = AfterFactory()
    with refused():
        AfterFactory(task=after.task, before=after.before)
