"""The rack: materials, pieces and drops, cuts, counts and what is held for a task."""

from fabshop.records.stock.cut import Cut, CutList, CutMark, CutWish
from fabshop.records.stock.piece import Material, Piece, PieceCount, Reservation

__all__ = [
    "Cut",
    "CutList",
    "CutMark",
    "CutWish",
    "Material",
    "Piece",
    "PieceCount",
    "Reservation",
]
