"""The rack: pieces put there, cut, counted, held for a task, and what is wanted cut."""

from fabshop.actions.stock.count import count_piece
from fabshop.actions.stock.cut import cut_piece
from fabshop.actions.stock.hold import release_piece, reserve_piece
from fabshop.actions.stock.material import add_material, material_called
from fabshop.actions.stock.piece import add_piece, change_piece, retire_piece

__all__ = [
    "add_material",
    "add_piece",
    "change_piece",
    "count_piece",
    "cut_piece",
    "material_called",
    "release_piece",
    "reserve_piece",
    "retire_piece",
]
