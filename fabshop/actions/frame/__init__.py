"""Drawing a tube frame: nodes, tubes and their ends, from hand, table or drawing."""

from fabshop.actions.frame.define import add_frame, change_frame
from fabshop.actions.frame.drawing import (
    LinesTaken,
    read_lines,
    take_lines,
)
from fabshop.actions.frame.fit import keep_print_fit
from fabshop.actions.frame.mirror import mirror_tube
from fabshop.actions.frame.node import remove_node, set_node
from fabshop.actions.frame.tube import EndSaid, remove_tube, set_tube
from fabshop.actions.frame.wish import wish_frame

__all__ = [
    "EndSaid",
    "LinesTaken",
    "add_frame",
    "change_frame",
    "keep_print_fit",
    "mirror_tube",
    "read_lines",
    "remove_node",
    "remove_tube",
    "set_node",
    "set_tube",
    "take_lines",
    "wish_frame",
]
