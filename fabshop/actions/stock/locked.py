"""A piece while it is acted on: locked, as the record has it, and found again."""

from __future__ import annotations

from fabshop.errors import Clash
from fabshop.reckoning.facts import PieceFact
from fabshop.records.log import LogEntry
from fabshop.records.stock import CutWish, Piece
from fabshop.records.task import Task
from fabshop.snapshot.stock import piece_facts


def locked_piece(piece: Piece) -> Piece:
    """The row, so that two who cut at once do it one after the other."""
    pieces = Piece.objects.select_for_update(no_key=True, of=("self",))
    return pieces.select_related("material").get(pk=piece.pk)


def piece_as_it_stands(piece: Piece) -> PieceFact:
    """What the record says is left of it, and who holds how much."""
    return piece_facts(Piece.objects.filter(pk=piece.pk))[0]


def refuse_gone(piece: Piece) -> None:
    if piece.retired_at is not None:
        raise Clash(
            f"{piece.code} is gone from the rack: {piece.retired_why}.",
            code="is-retired",
        )


def is_for_a_frame(task: Task | None, wish: CutWish | None = None) -> bool:
    """Whether what is cut goes into a frame: its wish says so, or the task's do.

    A task that copes or welds joints is of a frame as well.
    """
    if wish is not None:
        return wish.is_frame
    return task is not None and (
        task.cut_wishes.filter(is_frame=True).exists()
        or task.joints.exists()
        or task.copes.exists()
    )


def piece_of(entry: LogEntry) -> Piece:
    """The first answer of actions that answer with their piece."""
    return Piece.objects.select_related("material").get(pk=entry.before["piece"])
