"""Left and right: two components that mirror each other."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from fabshop import words
from fabshop.actions.build.change import locked_together
from fabshop.actions.log.entry import write_entry
from fabshop.actions.moved import move
from fabshop.actions.shop.allowed import require
from fabshop.errors import BadInput, Clash
from fabshop.records.build import Component
from fabshop.records.shop import Person

_OTHER_SIDE = {
    words.Side.LEFT: words.Side.RIGHT,
    words.Side.RIGHT: words.Side.LEFT,
    words.Side.NONE: words.Side.NONE,
}


@transaction.atomic
def link_twins(
    *,
    by: Person,
    component: Component,
    twin: Component,
    now: datetime,
    side: words.Side | str = words.Side.NONE,
) -> Component:
    """Make two components each other's twin; `side` is the side of the first."""
    require(by, "own")
    try:
        side = words.Side(side)
    except ValueError:
        raise BadInput(
            f"Side: “{str(side)[:20]}” is neither L nor R.", field="side"
        ) from None
    if component.pk == twin.pk:
        raise BadInput("A part cannot be its own twin.", field="twin")
    component, twin = locked_together([component, twin])
    if component.build_id != twin.build_id:
        raise BadInput(
            f"{twin} is on {twin.build.name} and {component.code} on "
            f"{component.build.name}; twins are of one build.",
            field="twin",
        )
    for one, other in ((component, twin), (twin, component)):
        if one.twin_id not in (None, other.pk):
            raise Clash(f"{one.code} is the twin of {one.twin} already.", field="twin")
    sides = {component: side, twin: _OTHER_SIDE[side]}
    if all(
        one.twin_id == other.pk and one.side == sides[one]
        for one, other in ((component, twin), (twin, component))
    ):
        return component
    move(component, {}, twin=twin, side=sides[component])
    move(twin, {}, twin=component, side=sides[twin])
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        component=component,
        text=f"{component.code} and {twin.code} are twins.",
    )
    return component


@transaction.atomic
def unlink_twin(*, by: Person, component: Component, now: datetime) -> Component:
    """Let a component and its twin go their own ways."""
    require(by, "own")
    twins = Component.objects.filter(twin=component)
    component, *others = locked_together([component, *twins])
    for twin in others:
        move(component, {}, twin=None, side=words.Side.NONE)
        move(twin, {}, twin=None, side=words.Side.NONE)
        write_entry(
            kind=words.EntryKind.CHANGED,
            by=by,
            now=now,
            component=component,
            text=f"{component.code} and {twin.code} are no longer twins.",
        )
    return component
