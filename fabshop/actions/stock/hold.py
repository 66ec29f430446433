"""A length of a piece is held for a task once, until the task has it or lets go."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.log import once, write_entry
from fabshop.actions.shop import require
from fabshop.actions.stock.locked import (
    is_for_a_frame,
    locked_piece,
    piece_as_it_stands,
    refuse_gone,
)
from fabshop.actions.typed import one_line
from fabshop.errors import BadInput, Clash, NeedsAnswer
from fabshop.reckoning.facts import PieceFact
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.stock import Piece, Reservation
from fabshop.records.task import Task
from fabshop.units import show_length


def _hold_of(entry: LogEntry) -> Reservation:
    return Reservation.objects.select_related("piece", "task").get(
        pk=entry.before["held"]
    )


@once(words.EntryKind.HELD, first=_hold_of)
def reserve_piece(
    *,
    by: Person,
    piece: Piece,
    task: Task,
    now: datetime,
    length_um: int | None = None,
    waive: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Reservation:
    """Hold a length for a task (all that is free, unless one is said)."""
    require(by, "write")
    piece = locked_piece(piece)
    refuse_gone(piece)
    if task.state in (words.TaskState.DONE, words.TaskState.GIVEN_UP):
        raise Clash(f"{task} is {words.TaskState(task.state).label} already.")
    stands = piece_as_it_stands(piece)
    if any(code == task.code for code, _ in stands.held):
        raise Clash(f"{task.code} holds {piece.code} already.", code="is-held")
    length_um = stands.free_um if length_um is None else length_um
    if length_um <= 0 or length_um > stands.free_um:
        others = ", ".join(
            f"{code} holds {show_length(um)}" for code, um in stands.held
        )
        raise BadInput(
            f"{piece.code}: {show_length(length_um)} wanted, "
            f"{show_length(max(0, stands.free_um))} free"
            f"{f'; {others}' if others else ''}.",
            field="length",
        )
    refuse_unknown_lot(stands, is_for_a_frame(task), waive)
    Reservation.objects.filter(piece=piece, task=task, released_at=None).update(
        released_at=at or now
    )
    held = Reservation.objects.create(
        piece=piece,
        task=task,
        length_um=length_um,
        waived_why=one_line(waive, field="waive", label="Reason", most=160),
        person=by,
        at=at or now,
    )
    write_entry(
        kind=words.EntryKind.HELD,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        text=f"{show_length(length_um)} of {piece.code} held for {task.code}"
        + (f"; heat lot unknown: {waive}" if waive else ""),
        before={"held": held.pk},
    )
    return held


@once(words.EntryKind.LET_GO, first=_hold_of)
def release_piece(
    *,
    by: Person,
    held: Reservation,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Reservation:
    """Let go of what a task holds; what it has cut stays cut."""
    require(by, "write")
    held = (
        Reservation.objects.select_for_update(no_key=True, of=("self",))
        .select_related("piece", "task")
        .get(pk=held.pk)
    )
    if held.released_at is not None:
        return held
    held.released_at = at or now
    held.save(update_fields=["released_at"])
    write_entry(
        kind=words.EntryKind.LET_GO,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=held.task,
        text=f"{held.piece.code} is not held for {held.task.code} any more",
        before={"held": held.pk, "let_go": [held.pk]},
    )
    return held


def release_of_task(task: Task, now: datetime) -> list[int]:
    """Let go of all that a task holds, which is given up; says what it was."""
    held = Reservation.objects.filter(task=task, released_at=None)
    ids = list(held.values_list("pk", flat=True))
    held.update(released_at=now)
    return ids


def refuse_unknown_lot(piece: PieceFact, for_frame: bool, waive: str) -> None:
    """A frame gets no unknown heat lot, except for a reason, which prints."""
    if for_frame and piece.lot_is_unknown and not waive.strip():
        raise NeedsAnswer(
            f"{piece.id}: nobody knows its heat lot, and this goes into a frame. "
            "Take another, or say why it may; the reason prints on the sheets.",
            field="waive",
            code="unknown-lot",
        )
