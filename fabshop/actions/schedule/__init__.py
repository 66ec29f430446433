"""The shop's plan: asked for, kept, and steered by what is chosen."""

from fabshop.actions.schedule.ask import ask_plan

__all__ = ["ask_plan"]
