"""What comes, is used, is lost and goes back: so many more or less, never set to."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from fabshop import words
from fabshop.actions.expired import gone_off_sentence, is_gone_off, shop_day
from fabshop.actions.log import once
from fabshop.actions.shelf.locked import (
    Thing,
    amount,
    locked,
    move_of,
    moved,
    refuse_gone,
    some,
)
from fabshop.actions.shop import require
from fabshop.actions.typed import one_line, some_line
from fabshop.errors import Clash
from fabshop.records.build import Component
from fabshop.records.shelf import Consumable, ShelfMove, Tray
from fabshop.records.shop import Person
from fabshop.records.task import Task
from fabshop.snapshot.shelf import consumable_facts

_KIND = words.EntryKind.USED


@once(_KIND, first=move_of)
def use_consumable(
    *,
    by: Person,
    consumable: Consumable,
    quantity_milli: int,
    now: datetime,
    task: Task | None = None,
    note: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> ShelfMove:
    """Say what was used of it, for which task.

    What has gone off is held: the owner lets one task use it, with a reason, and
    then it is used. More than the record has is taken as it was said, and the count
    then reads below nothing.
    """
    require(by, "write")
    thing: Consumable = locked(consumable)
    refuse_gone(thing)
    some(thing, quantity_milli)
    fact = consumable_facts(Consumable.objects.filter(pk=thing.pk))[0]
    is_off = is_gone_off(fact, shop_day(at or now))
    if is_off and task is None:
        raise Clash(
            f"{thing} has gone off: say for which task, and the owner overrules it "
            "there with a reason. What is not used is thrown away.",
            code="gone-off",
            field="task",
        )
    if is_off and task is not None and task.code not in dict(fact.let):
        raise Clash(gone_off_sentence(task, [fact]), code="gone-off")
    return moved(
        thing,
        words.MoveKind.USED,
        -quantity_milli,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        entry_kind=_KIND,
        is_gone_off=is_off,
        reason=one_line(note, field="note", label="Note", most=160),
        text=f"Used {amount(thing, quantity_milli)} of {thing}"
        + (", gone off, overruled" if is_off else "")
        + (f". {note}" if note else ""),
    )


@once(_KIND, first=move_of)
def take_from_tray(
    *,
    by: Person,
    tray: Tray,
    quantity_milli: int,
    now: datetime,
    task: Task | None = None,
    component: Component | None = None,
    note: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> ShelfMove:
    """Take so many out of a tray; two phones may both take the last, and both stand."""
    told = f" for {component or task}" if component or task else ""
    return _plainly(
        tray,
        words.MoveKind.USED,
        -1,
        quantity_milli,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        component=component,
        reason=note,
        said=f"taken out{told}",
    )


@once(_KIND, first=move_of)
def bag_short(
    *,
    by: Person,
    tray: Tray,
    component: Component,
    now: datetime,
    quantity_milli: int = 1000,
    note: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> ShelfMove:
    """A screw of a part's bag is missing: one from the tray takes its place."""
    return _plainly(
        tray,
        words.MoveKind.LOST,
        -1,
        quantity_milli,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        component=component,
        reason=note,
        said=f"missing from the bag of {component}, taken from the tray",
    )


@once(_KIND, first=move_of)
def came_in(
    *,
    by: Person,
    thing: Thing,
    quantity_milli: int,
    now: datetime,
    note: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> ShelfMove:
    """So many came without an order that names it: a find, a gift, from a drawer."""
    return _plainly(
        thing,
        words.MoveKind.CAME,
        1,
        quantity_milli,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        reason=note,
        said="came in",
    )


@once(_KIND, first=move_of)
def put_back(
    *,
    by: Person,
    thing: Thing,
    quantity_milli: int,
    now: datetime,
    note: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> ShelfMove:
    """So many went back where they came from."""
    return _plainly(
        thing,
        words.MoveKind.BACK,
        1,
        quantity_milli,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        reason=note,
        said="put back",
    )


@once(_KIND, first=move_of)
def throw_away(
    *,
    by: Person,
    thing: Thing,
    quantity_milli: int,
    why: str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> ShelfMove:
    """So much of it is thrown away, with the reason why."""
    return _plainly(
        thing,
        words.MoveKind.THROWN,
        -1,
        quantity_milli,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        reason=some_line(why, field="why", label="Why", most=160),
        said="thrown away",
    )


def _plainly(
    thing: Thing,
    kind: words.MoveKind,
    sign: int,
    quantity_milli: int,
    *,
    by: Person,
    reason: str,
    said: str,
    **told: Any,
) -> ShelfMove:
    require(by, "write")
    thing = locked(thing)
    refuse_gone(thing)
    some(thing, quantity_milli)
    reason = one_line(reason, field="note", label="Note", most=160)
    return moved(
        thing,
        kind,
        sign * quantity_milli,
        by=by,
        entry_kind=_KIND,
        reason=reason,
        text=f"{thing}: {amount(thing, quantity_milli)} {said}"
        + (f". {reason}" if reason else ""),
        **told,
    )
