"""The other of a left and a right: whose drawing a drawing is held against."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from django.db.models import Q

from fabshop import words
from fabshop.reckoning.drawing.kept import from_json
from fabshop.reckoning.drawing.mirror import mirror
from fabshop.records.drawing import Drawing
from fabshop.records.order import OrderLine

_OTHER = {words.Hand.LEFT: words.Hand.RIGHT, words.Hand.RIGHT: words.Hand.LEFT}


def hands_of(drawing: Drawing) -> tuple[Drawing, words.Mirror] | None:
    """The latest drawing of the other hand, and how the two go together.

    The other hand is on the same order, or of the component's twin, wherever that is
    ordered; without hand, twin or anything read there is nothing to hold it against.
    """
    hand = words.Hand(drawing.hand)
    if hand not in _OTHER or drawing.read is None:
        return None
    for lines in _twin_lines(drawing.line, _OTHER[hand]):
        other = (
            Drawing.objects.filter(
                line__in=lines, hand=_OTHER[hand], read__isnull=False
            )
            .select_related("line__order")
            .order_by("at", "id")
            .last()
        )
        if other is not None:
            return other, _compared(_Kept(drawing), _Kept(other))
    return None


def _twin_lines(line: OrderLine, hand: words.Hand) -> list[Any]:
    """Where the other hand is looked for, the nearest place first."""
    part = line.component
    of_twin = Q(pk__in=[])
    if part is not None and part.twin_id is not None:
        of_twin = Q(component_id=part.twin_id)
    on_order = Q(order_id=line.order_id, hand=hand)
    found = [
        OrderLine.objects.filter(on_order & of_twin),
        OrderLine.objects.filter(of_twin),
    ]
    if part is None or part.twin_id is None:
        # Without twins that are named, the one other line of that hand must be it.
        found = [OrderLine.objects.filter(on_order)]
    return found


class _Kept:
    """What was read of a drawing, known by its file, so that it is compared once."""

    def __init__(self, drawing: Drawing) -> None:
        self.digest, self.read = drawing.digest, drawing.read or {}

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Kept) and self.digest == other.digest

    def __hash__(self) -> int:
        return hash(self.digest)


@lru_cache(maxsize=256)
def _compared(one: _Kept, other: _Kept) -> words.Mirror:
    return mirror(from_json(one.read), from_json(other.read))
