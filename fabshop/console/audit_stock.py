"""Contradictions of the rack: lengths below nothing, held twice, lots that changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from django.db.models import F

from fabshop.records.stock import Cut, CutMark, Piece
from fabshop.snapshot.stock import piece_facts
from fabshop.units import show_length


def _pieces_below_nothing() -> Iterator[str]:
    """More was cut of a piece than there was."""
    for piece in piece_facts(Piece.objects.on_the_rack()):
        if piece.left_um < 0 or (piece.is_flat and piece.wide_um < 0):
            least = min(piece.left_um, piece.wide_um if piece.is_flat else 0)
            yield f"{piece.id} reads {show_length(least)}: measure it."


def _held_beyond_the_piece() -> Iterator[str]:
    """Tasks hold more of a piece than there is."""
    for piece in piece_facts(Piece.objects.on_the_rack()):
        if piece.left_um >= 0 and piece.free_um < 0:
            holders = " ".join(task for task, _ in piece.held)
            yield (
                f"{holders} hold {show_length(piece.held_um)} of {piece.id}, but "
                f"{show_length(piece.left_um)} is left."
            )


def _frame_cuts_of_another_lot() -> Iterator[str]:
    """What went into a frame was cut as one lot, and its piece is of another now."""
    cuts = Cut.objects.filter(is_frame=True, is_taken_back=False)
    for cut in cuts.exclude(heat_lot=F("piece__heat_lot")).select_related("piece"):
        if cut.piece.heat_lot or cut.heat_lot not in ("", "none"):
            yield (
                f"{show_length(cut.part)} for a frame was cut from {cut.piece.code} as "
                f"lot {cut.heat_lot or 'unknown'}; the piece says "
                f"{cut.piece.heat_lot or 'unknown'}."
            )


def _cut_from_another_piece() -> Iterator[str]:
    """A mark of a cut list was cut from another piece than the list says."""
    marks = CutMark.objects.filter(cuts__is_taken_back=False)
    for mark in marks.exclude(cuts__piece=F("piece")).select_related("piece"):
        yield f"{mark.mark} was to come from {mark.piece.code} and came from another."


RACK_CHECKS: dict[str, Callable[[], Iterable[str]]] = {
    "piece-below-nothing": _pieces_below_nothing,
    "held-beyond-piece": _held_beyond_the_piece,
    "frame-cut-of-another-lot": _frame_cuts_of_another_lot,
    "mark-cut-from-another-piece": _cut_from_another_piece,
}
