"""Tasks: how they are defined, finished and held."""

from fabshop.actions.task.finish import holds_under
from fabshop.actions.task.hold import fail_hold, sign_hold, waive_hold
from fabshop.actions.task.reading import take_reading

__all__ = [
    "fail_hold",
    "holds_under",
    "sign_hold",
    "take_reading",
    "waive_hold",
]
