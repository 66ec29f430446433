"""The rack: pieces put there, cut, counted, held for a task, and what is wanted cut."""

from fabshop.actions.stock.count import count_piece
from fabshop.actions.stock.cut import cut_piece
from fabshop.actions.stock.cut_list import ask_cut_list
from fabshop.actions.stock.cut_sheet import cut_sheet
from fabshop.actions.stock.hold import release_piece, reserve_piece
from fabshop.actions.stock.material import add_material, material_called
from fabshop.actions.stock.piece import add_piece, change_piece, retire_piece
from fabshop.actions.stock.wish import add_wish, give_up_wish

__all__ = [
    "add_material",
    "add_piece",
    "add_wish",
    "ask_cut_list",
    "change_piece",
    "count_piece",
    "cut_piece",
    "cut_sheet",
    "give_up_wish",
    "material_called",
    "release_piece",
    "reserve_piece",
    "retire_piece",
]
