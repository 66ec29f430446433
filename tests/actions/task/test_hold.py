from datetime import datetime, timedelta

import pytest

from fabshop import words
from fabshop.actions.log.timer import start_work
from fabshop.actions.task.hold import fail_hold, sign_hold, waive_hold
from fabshop.actions.task.reading import take_reading
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.log import LogEntry, Timer
from fabshop.records.shop import Person
from fabshop.records.task import HoldSigning, ReadingTaken, Task, hold_verdict
from tests.factories import ReadingFactory, TaskFactory


@pytest.fixture
def hold(owner: Person) -> Task:
    hold = TaskFactory(code="W23", title="Buried wiring", is_hold=True)
    ReadingFactory(task=hold, label="Motor turns")
    return hold


def read(by: Person, hold: Task, now: datetime) -> ReadingTaken:
    return take_reading(by=by, reading=hold.readings.get(), value=1, now=now)


def test_signing_asks_for_every_reading_then_finishes_the_hold(
    owner: Person, hold: Task, now: datetime
) -> None:
    with pytest.raises(BadInput, match="Motor turns: not taken yet"):
        sign_hold(by=owner, task=hold, now=now)
    read(owner, hold, now)
    start_work(by=owner, task=hold, now=now)
    signing = sign_hold(
        by=owner, task=hold, now=now + timedelta(minutes=9), client_id="s"
    )
    assert signing.verdict == words.HoldVerdict.SIGNED
    hold.refresh_from_db()
    assert hold.state == words.TaskState.DONE
    assert not Timer.objects.exists()
    assert LogEntry.objects.get(kind="stop").minutes == 9
    assert LogEntry.objects.get(client_id="s").text == "signed"
    assert sign_hold(by=owner, task=hold, now=now, client_id="s") == signing
    with pytest.raises(Clash, match="W23 Buried wiring is done already"):
        sign_hold(by=owner, task=hold, now=now)


def test_a_signature_does_not_wait_for_a_forgotten_timer(
    owner: Person, hold: Task, now: datetime
) -> None:
    start_work(by=owner, task=hold, now=now)
    read(owner, hold, now)
    sign_hold(by=owner, task=hold, now=now + timedelta(hours=9))
    hold.refresh_from_db()
    assert hold.state == words.TaskState.DONE
    assert Timer.objects.count() == 1


def test_a_helper_cannot_sign_and_the_reading_is_kept(
    helper: Person, hold: Task, now: datetime
) -> None:
    read(helper, hold, now)
    with pytest.raises(NotAllowed) as refused:
        sign_hold(by=helper, task=hold, now=now)
    assert str(refused.value) == (
        "A helper cannot sign a hold; the reading is kept, unsigned."
    )
    with pytest.raises(NotAllowed, match="A helper cannot waive a hold"):
        waive_hold(by=helper, task=hold, reason="late", now=now)
    assert ReadingTaken.objects.count() == 1
    assert not HoldSigning.objects.exists()


def test_a_waiver_needs_a_reason_and_finishes_the_hold(
    owner: Person, hold: Task, now: datetime
) -> None:
    with pytest.raises(BadInput, match="with a reason or not at all"):
        waive_hold(by=owner, task=hold, reason=" ", now=now)
    waive_hold(by=owner, task=hold, reason="Tested on the bench.", now=now)
    hold.refresh_from_db()
    assert hold.state == words.TaskState.DONE
    assert hold_verdict(hold.signings.all()) == words.HoldVerdict.WAIVED
    assert LogEntry.objects.get().text == "waived: Tested on the bench."


def test_a_fail_by_anybody_opens_a_signed_hold_again(
    owner: Person, helper: Person, hold: Task, now: datetime
) -> None:
    read(owner, hold, now)
    sign_hold(by=owner, task=hold, now=now)
    with pytest.raises(BadInput, match="Say what failed"):
        fail_hold(by=helper, task=hold, reason="", now=now)
    later = now + timedelta(minutes=5)
    fail_hold(by=helper, task=hold, reason="Lamp dead", now=later)
    hold.refresh_from_db()
    assert (hold.state, hold.done_at) == (words.TaskState.OPEN, None)
    assert hold_verdict(hold.signings.all()) == words.HoldVerdict.FAILED
    with pytest.raises(BadInput, match="not taken yet"):
        sign_hold(by=owner, task=hold, now=later)
    read(owner, hold, later + timedelta(minutes=1))
    sign_hold(by=owner, task=hold, now=later + timedelta(minutes=2))
    assert hold_verdict(hold.signings.all()) == words.HoldVerdict.SIGNED


def test_a_signature_made_without_seeing_a_fail_is_kept_and_the_fail_stands(
    owner: Person, helper: Person, hold: Task, now: datetime
) -> None:
    seen = hold.version
    fail_hold(by=helper, task=hold, reason="Lamp dead", now=now)
    read(owner, hold, now + timedelta(minutes=1))
    late = now + timedelta(minutes=2)
    sign_hold(by=owner, task=hold, now=late, seen_version=seen)
    hold.refresh_from_db()
    assert hold.state == words.TaskState.OPEN
    assert hold.signings.count() == 2
    assert hold_verdict(hold.signings.all()) == words.HoldVerdict.FAILED
    sign_hold(by=owner, task=hold, now=late, seen_version=hold.version)
    assert hold_verdict(hold.signings.all()) == words.HoldVerdict.SIGNED


def test_a_fail_that_arrives_after_the_signature_stands(
    owner: Person, helper: Person, hold: Task, now: datetime
) -> None:
    read(owner, hold, now)
    sign_hold(by=owner, task=hold, now=now + timedelta(hours=1))
    # Taken off line before the signing, sent after it.
    fail_hold(
        by=helper, task=hold, reason="Hot plug", now=now + timedelta(hours=2), at=now
    )
    assert hold_verdict(hold.signings.all()) == words.HoldVerdict.FAILED


def test_only_a_hold_is_signed_failed_or_waived(owner: Person, now: datetime) -> None:
    task = TaskFactory(code="W1", title="Sand")
    with pytest.raises(Clash, match="W1 Sand is not a hold"):
        sign_hold(by=owner, task=task, now=now)
