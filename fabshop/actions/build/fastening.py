"""What holds a component: screws, nuts, ties, clips, each with its locker."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from django.db import transaction

from fabshop import words
from fabshop.actions.build.change import locked
from fabshop.actions.log.entry import write_entry
from fabshop.actions.moved import move
from fabshop.actions.shop.allowed import require
from fabshop.actions.typed import number, one_line, some_line
from fabshop.errors import BadInput
from fabshop.records.build import Component, Fastening
from fabshop.records.shop import Person

MOST_OF_ONE_SIZE = 10_000
_FIELDS = {
    "count",
    "size",
    "locker",
    "torque_mnm",
    "is_single_use",
    "is_screw",
    "bag",
}


@transaction.atomic
def set_fastenings(
    *,
    by: Person,
    component: Component,
    fastenings: Sequence[Mapping[str, Any]],
    now: datetime,
) -> Component:
    """Replace what holds a component; each names at least its count and size."""
    require(by, "own")
    component = locked(component)
    wanted = [_checked(component, index, one) for index, one in enumerate(fastenings)]
    if [_said(one) for one in wanted] == [
        _said(one) for one in component.fastenings.all()
    ]:
        return component
    component.fastenings.all().delete()
    Fastening.objects.bulk_create(wanted)
    move(component, {})
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        component=component,
        text=f"{component.code} is held by "
        + (", ".join(str(one) for one in wanted) or "nothing")
        + ".",
    )
    return component


def _checked(component: Component, index: int, one: Mapping[str, Any]) -> Fastening:
    at = f"fastenings[{index}]"
    for name in one:
        if name not in _FIELDS:
            raise BadInput(f"A fastening has no “{name}”.", field=f"{at}.{name}")
    count = number(
        one.get("count", 0), field=f"{at}.count", label="Count", most=MOST_OF_ONE_SIZE
    )
    if not count:
        raise BadInput("Count: a fastening is at least one.", field=f"{at}.count")
    torque = one.get("torque_mnm")
    if torque is not None:
        torque = number(torque, field=f"{at}.torque_mnm", label="Torque")
    try:
        locker = words.Locker(one.get("locker", words.Locker.NONE))
    except ValueError:
        known = ", ".join(words.Locker)
        raise BadInput(
            f"Locker: “{str(one['locker'])[:20]}” is none of {known}.",
            field=f"{at}.locker",
        ) from None
    return Fastening(
        component=component,
        count=count,
        size=some_line(one.get("size", ""), field=f"{at}.size", label="Size", most=40),
        locker=locker,
        torque_mnm=torque,
        is_single_use=bool(one.get("is_single_use", False)),
        is_screw=bool(one.get("is_screw", True)),
        bag=one_line(one.get("bag", ""), field=f"{at}.bag", label="Bag", most=20),
    )


def _said(one: Fastening) -> tuple[object, ...]:
    return tuple(str(getattr(one, name)) for name in sorted(_FIELDS))
