"""A length is held once, for a task that is still to be done."""

from datetime import datetime, timedelta

import pytest

from fabshop.actions.log import finish_work, undo_entry
from fabshop.actions.stock import release_piece, reserve_piece
from fabshop.actions.task import give_up_task
from fabshop.errors import BadInput, Clash, NeedsAnswer
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.stock import Piece, Reservation
from tests.factories import CutWishFactory, PieceFactory, TaskFactory

pytestmark = pytest.mark.django_db


def test_a_length_is_held_once(tube: Piece, helper: Person, now: datetime) -> None:
    first, other = TaskFactory(code="W41"), TaskFactory(code="W45")
    held = reserve_piece(by=helper, piece=tube, task=first, length_um=700_000, now=now)
    with pytest.raises(Clash, match="W41 holds M08 already"):
        reserve_piece(by=helper, piece=tube, task=first, length_um=1, now=now)
    with pytest.raises(
        BadInput, match="400 mm wanted, 300 mm free; W41 holds 700 mm"
    ) as error:
        reserve_piece(by=helper, piece=tube, task=other, length_um=400_000, now=now)
    assert error.value.field == "length"
    rest = reserve_piece(by=helper, piece=tube, task=other, now=now)
    assert rest.length_um == 300_000
    release_piece(by=helper, held=held, now=now)
    again = reserve_piece(by=helper, piece=tube, task=first, now=now)
    assert again.length_um == 700_000


def test_it_is_let_go_when_the_task_is_given_up_and_held_again_when_that_is_undone(
    tube: Piece, owner: Person, now: datetime
) -> None:
    task = TaskFactory()
    held = reserve_piece(by=owner, piece=tube, task=task, now=now)
    give_up_task(by=owner, task=task, now=now)
    held.refresh_from_db()
    assert held.released_at == now
    entry = LogEntry.objects.get(kind="given-up-task")
    undo_entry(by=owner, entry=entry, now=now + timedelta(minutes=1))
    held.refresh_from_db()
    assert held.released_at is None


def test_a_finished_task_lets_go_of_what_it_did_not_use(
    tube: Piece, owner: Person, now: datetime
) -> None:
    task = TaskFactory()
    held = reserve_piece(by=owner, piece=tube, task=task, now=now)
    entry = finish_work(by=owner, task=task, now=now, minutes=5)
    held.refresh_from_db()
    assert held.released_at == now
    undo_entry(by=owner, entry=entry, now=now)
    held.refresh_from_db()
    assert held.released_at is None


def test_a_task_given_up_holds_nothing(
    tube: Piece, owner: Person, now: datetime
) -> None:
    task = TaskFactory(state="given-up")
    with pytest.raises(Clash, match="given up already"):
        reserve_piece(by=owner, piece=tube, task=task, now=now)


def test_holding_and_letting_go_are_undone(
    tube: Piece, owner: Person, now: datetime
) -> None:
    held = reserve_piece(by=owner, piece=tube, task=TaskFactory(), now=now)
    release_piece(by=owner, held=held, now=now)
    undo_entry(by=owner, entry=LogEntry.objects.get(kind="let-go"), now=now)
    held.refresh_from_db()
    assert held.released_at is None
    undo_entry(by=owner, entry=LogEntry.objects.get(kind="held-for-a-task"), now=now)
    held.refresh_from_db()
    assert held.released_at is not None


def test_letting_go_is_not_undone_where_the_task_holds_it_anew(
    tube: Piece, owner: Person, now: datetime
) -> None:
    task = TaskFactory()
    held = reserve_piece(by=owner, piece=tube, task=task, now=now)
    release_piece(by=owner, held=held, now=now)
    reserve_piece(by=owner, piece=tube, task=task, now=now)
    undo_entry(by=owner, entry=LogEntry.objects.get(kind="let-go"), now=now)
    assert Reservation.objects.filter(released_at=None).count() == 1


def test_row_34_a_frame_task_holds_no_unknown_lot_but_for_a_reason(
    owner: Person, now: datetime
) -> None:
    piece, task = PieceFactory(heat_lot=""), TaskFactory()
    CutWishFactory(task=task)
    with pytest.raises(NeedsAnswer, match="nobody knows its heat lot"):
        reserve_piece(by=owner, piece=piece, task=task, now=now)
    held = reserve_piece(by=owner, piece=piece, task=task, now=now, waive="trial")
    assert held.waived_why == "trial"
