from datetime import datetime, timedelta

import pytest

from fabshop import words
from fabshop.actions.task.state import choose_fallback, give_up_task, reopen_task
from fabshop.errors import Clash, NeedsAnswer, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import hold_verdict
from tests.factories import (
    BuildFactory,
    FallbackFactory,
    HoldSigningFactory,
    TaskFactory,
    WindowFactory,
)


def test_a_task_is_given_up_and_opened_again(
    owner: Person, helper: Person, now: datetime
) -> None:
    task = TaskFactory(code="W14", title="Fit ducts")
    with pytest.raises(NotAllowed):
        give_up_task(by=helper, task=task, now=now)
    given_up = give_up_task(by=owner, task=task, now=now, client_id="g")
    assert given_up.state == words.TaskState.GIVEN_UP
    assert give_up_task(by=owner, task=task, now=now, client_id="g") == task
    with pytest.raises(Clash, match="W14 Fit ducts is given up already"):
        give_up_task(by=owner, task=task, now=now)
    opened = reopen_task(by=helper, task=task, now=now)
    assert (opened.state, opened.done_at) == (words.TaskState.OPEN, None)
    with pytest.raises(Clash, match="W14 Fit ducts is open already"):
        reopen_task(by=owner, task=task, now=now)
    kinds = LogEntry.objects.order_by("id").values_list("kind", flat=True)
    assert list(kinds) == ["given-up-task", "reopened"]


def test_a_hold_that_is_opened_again_is_to_be_signed_anew(
    owner: Person, now: datetime
) -> None:
    hold = TaskFactory(is_hold=True, state=words.TaskState.DONE, done_at=now)
    HoldSigningFactory(task=hold)
    reopened = reopen_task(by=owner, task=hold, now=now)
    assert reopened.state == words.TaskState.OPEN
    assert hold_verdict(hold.signings.all()) == words.HoldVerdict.FAILED


def test_row_72_plan_b_is_chosen_and_the_final_way_taken_again(
    owner: Person, helper: Person, now: datetime
) -> None:
    task = TaskFactory()
    rivet = FallbackFactory(task=task, title="Rivet")
    leave = FallbackFactory(task=task, title="Leave", chosen_at=now)
    with pytest.raises(NotAllowed):
        choose_fallback(by=helper, fallback=rivet, now=now)
    way = choose_fallback(by=owner, fallback=rivet, now=now, client_id="f")
    assert way.chosen_at == now
    leave.refresh_from_db()
    assert leave.chosen_at is None
    assert choose_fallback(by=owner, fallback=rivet, now=now, client_id="f") == way
    back = choose_fallback(by=owner, fallback=rivet, now=now, chosen=False)
    assert back.chosen_at is None
    assert list(LogEntry.objects.order_by("id").values_list("text", flat=True)) == [
        "Plan B: Rivet",
        "Not Plan B after all: Rivet",
    ]


def test_row_71_a_plan_b_after_its_own_last_moment_asks_and_offers_the_next(
    owner: Person, now: datetime
) -> None:
    # Two hours of bench until pack-out: enough for the old board, not for the print.
    build = BuildFactory(pack_out_at=now + timedelta(hours=4))
    WindowFactory(on=now.date(), from_minute=8 * 60 + 45, to_minute=10 * 60 + 45)
    task = TaskFactory(code="W21", build=build)
    paint = FallbackFactory(task=task, title="Print and paint", minutes=180, points=3)
    spare = FallbackFactory(task=task, title="Old board", minutes=60, points=1)
    with pytest.raises(NeedsAnswer) as asked:
        choose_fallback(by=owner, fallback=paint, now=now)
    assert str(asked.value) == (
        "Print and paint: no longer possible, needs 3 h; the hours left do not hold "
        "that. Next: Old board, possible until Fri 3 Sep 09:45. Take it all the same?"
    )
    paint.refresh_from_db()
    assert paint.chosen_at is None
    assert not LogEntry.objects.exists()
    assert choose_fallback(by=owner, fallback=spare, now=now).chosen_at == now
    taken = choose_fallback(by=owner, fallback=paint, now=now, confirm=True)
    assert taken.chosen_at == now


def test_row_71_the_last_moment_of_a_way_without_work_is_pack_out(
    owner: Person, now: datetime
) -> None:
    build = BuildFactory(pack_out_at=now - timedelta(hours=1))
    keep = FallbackFactory(task=TaskFactory(build=build), title="Keep ply", minutes=0)
    with pytest.raises(NeedsAnswer, match="needs no work; its last moment was Fri 3"):
        choose_fallback(by=owner, fallback=keep, now=now)
