"""The shop's plan: asked for, kept, and steered by what is chosen."""

from fabshop.actions.schedule.ask import ask_plan
from fabshop.actions.schedule.drift import Drift, plan_drift

__all__ = ["Drift", "ask_plan", "plan_drift"]
