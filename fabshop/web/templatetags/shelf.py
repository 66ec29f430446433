"""How amounts on the shelf are written: with their unit, screws without one."""

from __future__ import annotations

from typing import Any

from django import template

from fabshop import units

register = template.Library()


@register.filter
def amount(thing: Any, milli: int | None) -> str:
    """Thousandths of a consumable, `145 g`; of a tray the plain figure."""
    if milli is None:
        return ""
    unit = getattr(thing, "unit", "")
    sign = "−" if milli < 0 else ""
    return f"{sign}{units.show_milli(abs(milli))}{f' {unit}' if unit else ''}"


@register.filter
def amount_below(thing: Any, milli: int) -> str:
    """By how much a count lies below nothing, without the sign."""
    return amount(thing, abs(milli))
