"""The shop log: what people tap and type while they work."""

# `entry` stands first: other rooms of actions read `write_entry` from here while
# the timer, which asks them who may do what, is still being imported.
from fabshop.actions.log.entry import itself, once, write_entry
from fabshop.actions.log.timer import start_work, stop_work
from fabshop.actions.log.work import finish_work, note, part_done, stick

__all__ = [
    "finish_work",
    "itself",
    "note",
    "once",
    "part_done",
    "start_work",
    "stick",
    "stop_work",
    "write_entry",
]
