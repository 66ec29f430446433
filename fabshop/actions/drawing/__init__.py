"""Drawings put on order lines, looked at before they are sent, measured after."""

from fabshop.actions.drawing.check import (
    decide_check,
    limits_of,
    measure_check,
)
from fabshop.actions.drawing.event import send_to_event
from fabshop.actions.drawing.hands import hands_of
from fabshop.actions.drawing.look import Look, held_of, looks_of, shape_in
from fabshop.actions.drawing.put import describe_line, put_drawing

__all__ = [
    "Look",
    "decide_check",
    "describe_line",
    "hands_of",
    "held_of",
    "limits_of",
    "looks_of",
    "measure_check",
    "put_drawing",
    "send_to_event",
    "shape_in",
]
