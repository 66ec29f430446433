"""The shop log: what people tap and type while they work."""

# `entry` stands first: other rooms of actions read `write_entry` from here while
# the timer, which asks them who may do what, is still being imported.
from fabshop.actions.log.draft import (
    keep_answer,
    keep_draft,
    kept_answer,
    settle_draft,
)
from fabshop.actions.log.entry import itself, once, write_entry
from fabshop.actions.log.timer import start_work, stop_work
from fabshop.actions.log.undo import undo_entry
from fabshop.actions.log.work import finish_work, note, part_done, stick

__all__ = [
    "finish_work",
    "itself",
    "keep_answer",
    "keep_draft",
    "kept_answer",
    "note",
    "once",
    "part_done",
    "settle_draft",
    "start_work",
    "stick",
    "stop_work",
    "undo_entry",
    "write_entry",
]
