"""What an undo does to the rack: cuts, counts and holds are taken back, not deleted."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from fabshop.actions.stock.joint_lot import give_back
from fabshop.errors import Clash
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.stock import Cut, Piece, PieceCount, Reservation


def undo_cut(entry: LogEntry, by: Person, now: datetime) -> None:
    Cut.objects.filter(pk=entry.before["cut"]).update(is_taken_back=True)


def undo_cuts(entry: LogEntry, by: Person, now: datetime) -> None:
    """All cuts of a sheet that was cut up as drawn."""
    Cut.objects.filter(pk__in=entry.before["cuts"]).update(is_taken_back=True)


def undo_whole(entry: LogEntry, by: Person, now: datetime) -> None:
    """A full length again, unless it was cut once more since."""
    piece = Piece.objects.get(pk=entry.before["was_whole"])
    if not piece.cuts.filter(is_taken_back=False).exists():
        piece.is_drop = False
        piece.save(update_fields=["is_drop"])


def undo_joint_lots(entry: LogEntry, by: Person, now: datetime) -> None:
    give_back(entry.before["joint_lots"])


def undo_count(entry: LogEntry, by: Person, now: datetime) -> None:
    PieceCount.objects.filter(pk=entry.before["count"]).update(is_taken_back=True)


def undo_added(entry: LogEntry, by: Person, now: datetime) -> None:
    """A piece put there by mistake goes again; its code stays used."""
    piece = Piece.objects.select_for_update(no_key=True).get(pk=entry.before["added"])
    if piece.cuts.filter(is_taken_back=False).exists():
        raise Clash(f"{piece.code} has been cut since; undo that first.")
    piece.retired_at, piece.retired_why = now, "taken back: put here by mistake"
    piece.save(update_fields=["retired_at", "retired_why"])


def undo_retired(entry: LogEntry, by: Person, now: datetime) -> None:
    Piece.objects.filter(pk=entry.before["retired_piece"]).update(
        retired_at=None, retired_why=""
    )


def undo_held(entry: LogEntry, by: Person, now: datetime) -> None:
    """A hold lets go; `let_go` beside it says that it was the letting go instead."""
    if "let_go" not in entry.before:
        Reservation.objects.filter(pk=entry.before["held"]).update(released_at=now)


def undo_let_go(entry: LogEntry, by: Person, now: datetime) -> None:
    """Held again, unless somebody else holds it by now or the task has anew."""
    for held in Reservation.objects.filter(pk__in=entry.before["let_go"]):
        again = Reservation.objects.filter(
            piece=held.piece_id, task=held.task_id, released_at=None
        )
        if not again.exists():
            held.released_at = None
            held.save(update_fields=["released_at"])


RACK_EFFECTS: dict[str, Callable[[LogEntry, Person, datetime], None]] = {
    "cut": undo_cut,
    "cuts": undo_cuts,
    "was_whole": undo_whole,
    "joint_lots": undo_joint_lots,
    "count": undo_count,
    "added": undo_added,
    "retired_piece": undo_retired,
    "held": undo_held,
    "let_go": undo_let_go,
}
