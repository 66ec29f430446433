"""Tasks: how they are defined, finished and held."""

from fabshop.actions.task.after import set_after
from fabshop.actions.task.define import add_task, change_task
from fabshop.actions.task.finish import holds_under
from fabshop.actions.task.hold import fail_hold, sign_hold, waive_hold
from fabshop.actions.task.parts import (
    set_fallbacks,
    set_needs,
    set_readings,
    set_sites,
    set_stages,
)
from fabshop.actions.task.reading import take_reading
from fabshop.actions.task.state import choose_fallback, give_up_task, reopen_task

__all__ = [
    "add_task",
    "change_task",
    "choose_fallback",
    "fail_hold",
    "give_up_task",
    "holds_under",
    "reopen_task",
    "set_after",
    "set_fallbacks",
    "set_needs",
    "set_readings",
    "set_sites",
    "set_stages",
    "sign_hold",
    "take_reading",
    "waive_hold",
]
