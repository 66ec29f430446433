"""The shop's plan: asked for, kept, and steered by what is chosen."""

from fabshop.actions.schedule.ask import ask_plan
from fabshop.actions.schedule.choose import Chosen, choose_goal, pieces
from fabshop.actions.schedule.drift import Drift, plan_drift
from fabshop.actions.schedule.presence import (
    set_may_help,
    set_presence,
    set_sent_with,
)
from fabshop.actions.schedule.wish import wish

__all__ = [
    "Chosen",
    "Drift",
    "ask_plan",
    "choose_goal",
    "pieces",
    "plan_drift",
    "set_may_help",
    "set_presence",
    "set_sent_with",
    "wish",
]
