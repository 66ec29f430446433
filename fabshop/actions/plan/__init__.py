"""Teardown plans: asked, accepted, ticked off, and compared with the shop as it is."""

from fabshop.actions.plan.accept import accept_plan
from fabshop.actions.plan.ask import add_task_to_plan, ask_teardown
from fabshop.actions.plan.change import Change, plan_change
from fabshop.actions.plan.tick import is_done, is_ticked, tick_step, tick_to

__all__ = [
    "Change",
    "accept_plan",
    "add_task_to_plan",
    "ask_teardown",
    "is_done",
    "is_ticked",
    "plan_change",
    "tick_step",
    "tick_to",
]
