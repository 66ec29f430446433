"""Places on a build: made, described, retired; a code is never used again."""

from __future__ import annotations

from datetime import datetime
from enum import StrEnum
from typing import Any

from django.db import transaction
from django.db.models import Q

from fabshop import words
from fabshop.actions.build.change import (
    changed_since,
    label,
    locked,
    locked_together,
    refuse_closed,
    said,
)
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.moved import Before, move
from fabshop.actions.shop.allowed import require
from fabshop.actions.typed import code as typed_code
from fabshop.actions.typed import number, one_line, some_line
from fabshop.errors import BadInput, Clash, NeedsAnswer
from fabshop.records.build import Build, Component, Cover
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import Site, Task

# Eight hours to take one part off is a slip of the thumb more often than the truth.
LONG_MINUTES = 480
MOST_MINUTES = 32_767
MOST_MASS_MG = 2_000_000_000
FARTHEST_UM = 2_000_000_000

_LINES = {"held_by": 120, "watch": 200, "place": 60}
_YES_OR_NO = ("is_on", "is_for_good", "bares_battery_plug")
_WORDS: dict[str, type[StrEnum]] = {
    "state": words.ComponentState,
    "side": words.Side,
    "mass_basis": words.MassBasis,
}


def component_of(entry: LogEntry) -> Component:
    """The first answer of an action that made, moved or changed a component."""
    if entry.component is None:
        raise Clash("That component is no longer kept here.")
    return entry.component


@once(words.EntryKind.CHANGED, first=component_of)
def add_component(
    *,
    by: Person,
    build: Build,
    code: str,
    name: str,
    now: datetime,
    client_id: str | None = None,
    confirm: bool = False,
    **fields: Any,
) -> Component:
    """Add a place to a build; `confirm` says that very long handling is meant."""
    require(by, "own")
    refuse_closed(build)
    code = typed_code(code)
    known = Component.objects.filter(code__iexact=code).first()
    if known is not None:
        was = "was" if known.state == words.ComponentState.RETIRED else "is"
        raise Clash(
            f"{known.code} {was} {known.name}; a code is never used again.",
            field="code",
        )
    kept = _checked({"name": name, **fields}, confirm=confirm)
    if kept.get("state") == words.ComponentState.MISSING:
        kept["is_on"] = False
    component = Component.objects.create(
        build=build, code=code, **_with_mass_basis(kept)
    )
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        client_id=client_id,
        component=component,
        text=f"New: {component}.",
    )
    return component


@transaction.atomic
def change_component(
    *,
    by: Person,
    component: Component,
    version: int | None = None,
    now: datetime,
    confirm: bool = False,
    **fields: Any,
) -> Component:
    """Describe a place anew; `version` is the one that the writer had read."""
    require(by, "own")
    component = locked(component)
    kept = _checked(fields, confirm=confirm)
    state = kept.get("state", component.state)
    if state == words.ComponentState.MISSING:
        if kept.get("is_on"):
            raise BadInput("What is missing cannot be on the build.", field="is_on")
        kept["is_on"] = False
    if "mass_mg" in kept or "mass_basis" in kept:
        mass = {"mass_mg": component.mass_mg, "mass_basis": component.mass_basis}
        kept |= _with_mass_basis(mass | {k: v for k, v in kept.items() if k in mass})
    new = changed_since(component, kept, version)
    if new:
        before: Before = {}
        move(component, before, **new)
        write_entry(
            kind=words.EntryKind.CHANGED,
            by=by,
            now=now,
            component=component,
            text="; ".join(f"{label(k)}: {said(v)}" for k, v in new.items()) + ".",
            before=before,
        )
    return component


@transaction.atomic
def retire_component(
    *, by: Person, component: Component, now: datetime, confirm: bool = False
) -> Component:
    """Retire a place: its history stays, nothing lies under it any more.

    Asks first where unfinished tasks still work on it.
    """
    require(by, "own")
    twins = Component.objects.filter(twin=component)
    component, *others = locked_together([component, *twins])
    tasks = Task.objects.unfinished().filter(sites__component=component).distinct()
    if tasks and not confirm:
        raise NeedsAnswer(
            f"{component} is still worked on by "
            f"{', '.join(str(task) for task in tasks)}. Retire it all the same?",
            field="confirm",
        )
    linked = _unlinked(component)
    Site.objects.filter(component=component, task__in=tasks).delete()
    for twin in others:
        move(twin, {}, twin=None)
    move(component, {}, state=words.ComponentState.RETIRED, is_on=False, twin=None)
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        component=component,
        text=f"{component} is retired." + (f" No longer: {linked}." if linked else ""),
    )
    return component


def _unlinked(component: Component) -> str:
    """Take it out of what lies under what; return what no longer holds, in words."""
    covers = Cover.objects.filter(Q(cover=component) | Q(under=component))
    linked = ", ".join(
        f"{cover.under.code} under {cover.cover.code}"
        for cover in covers.select_related("under", "cover")
    )
    for cover in Cover.objects.filter(cover=component):
        beside = Cover.objects.filter(under=cover.under_id, route=cover.route)
        if not beside.exclude(pk=cover.pk).exists():
            # Nothing else was in the way there, so the place lies open by now.
            Cover.objects.filter(under=cover.under_id).delete()
    covers.delete()
    return linked


def _checked(fields: dict[str, Any], *, confirm: bool) -> dict[str, Any]:
    return {name: _field(name, value, confirm) for name, value in fields.items()}


def _field(name: str, value: Any, confirm: bool) -> Any:
    if name == "name":
        return some_line(value, field=name, label="Name", most=120)
    if name in _LINES:
        return one_line(value, field=name, label=label(name), most=_LINES[name])
    if name in _YES_OR_NO:
        return bool(value)
    if name in _WORDS:
        return _word(name, value)
    if name in ("off_minutes", "on_minutes"):
        return _minutes(name, value, confirm)
    if name == "mass_mg":
        if value is None:
            return None
        return number(value, field=name, label="Mass", most=MOST_MASS_MG)
    if name in ("x_um", "y_um", "z_um"):
        if value is not None and abs(value) > FARTHEST_UM:
            raise BadInput(f"Position: {value} is too far off.", field=name)
        return value
    raise BadInput(f"A component has no “{name}”.", field=name)


def _minutes(name: str, value: int | None, confirm: bool) -> int | None:
    """Handling minutes: nothing = unknown, and what is very long is asked about."""
    if value is None:
        return None
    said_as = "Minutes off" if name == "off_minutes" else "Minutes on"
    value = number(value, field=name, label=said_as, most=MOST_MINUTES)
    if value > LONG_MINUTES and not confirm:
        raise NeedsAnswer(
            f"{said_as}: {value} is more than {LONG_MINUTES // 60} hours for one "
            "part. Is that right?",
            field=name,
        )
    return value


def _word(name: str, value: Any) -> Any:
    if name == "mass_basis" and value == "":
        return value
    try:
        word = _WORDS[name](value)
    except ValueError:
        known = ", ".join(word.value for word in _WORDS[name] if word.value)
        raise BadInput(
            f"{label(name)}: “{str(value)[:20]}” is none of {known}.", field=name
        ) from None
    if word == words.ComponentState.RETIRED:
        raise BadInput("A component is retired by a button of its own.", field=name)
    return word


def _with_mass_basis(kept: dict[str, Any]) -> dict[str, Any]:
    """A mass that nobody called weighed is an estimate; no mass has no basis."""
    if kept.get("mass_mg") is None:
        return kept | {"mass_basis": ""}
    return kept | {"mass_basis": kept.get("mass_basis") or words.MassBasis.ESTIMATED}
