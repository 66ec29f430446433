"""What lies on the shelf at one place, as a count-up walks past it."""

from __future__ import annotations

from typing import Any

from fabshop.actions.shelf import count_up
from fabshop.errors import BadInput, FieldError
from fabshop.records.shelf import Consumable, Tray
from fabshop.web.typed import Typed

Thing = Consumable | Tray


def shelf_places() -> list[str]:
    """Every place where something of the shelf lies, in order."""
    found = {
        place
        for kind in (Consumable, Tray)
        for place in kind.objects.on_the_shelf().values_list("place", flat=True)
    }
    return sorted(place for place in found if place)


def shelf_things(place: str) -> list[Thing]:
    """What lies there, each with `left_milli`; without a place what has none noted."""
    consumables = Consumable.objects.on_the_shelf().filter(place=place).with_left()
    trays = Tray.objects.on_the_shelf().filter(place=place).with_left()
    return [*consumables, *trays]


def seen_on_the_shelf(form: Typed, things: list[Thing]) -> list[tuple[Thing, int]]:
    """The figures that were typed; what was left empty is not counted."""
    read = ((thing, form.milli(f"seen-{thing.code}", thing.code)) for thing in things)
    return [(thing, seen) for thing, seen in read if seen is not None]


def count_shelf(
    seen: list[tuple[Thing, int]],
    reason: str,
    client_id: str | None,
    about: dict[str, Any],
) -> int:
    """Count each up and return how many differed from the record."""
    changed = 0
    for thing, milli in seen:
        mine = f"{client_id[:40]}-{thing.pk}{thing.code[:16]}" if client_id else None
        try:
            move = count_up(
                thing=thing, seen_milli=milli, reason=reason, client_id=mine, **about
            )
        except BadInput as error:
            where = "reason" if error.field == "reason" else f"seen-{thing.code}"
            raise BadInput(
                error.message, field=where, errors=(FieldError(where, error.message),)
            ) from None
        changed += bool(move.change_milli)
    return changed
