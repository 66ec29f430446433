"""The shop log: what people tap and type while they work."""

from fabshop.actions.log.entry import itself, once, write_entry
from fabshop.actions.log.moved import Before, move
from fabshop.actions.log.timer import start_work, stop_work

__all__ = [
    "Before",
    "itself",
    "move",
    "once",
    "start_work",
    "stop_work",
    "write_entry",
]
