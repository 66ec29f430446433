"""A build as a whole: begun, described, closed."""

from __future__ import annotations

import re
from datetime import date, datetime
from typing import Any

from django.db import transaction

from fabshop import words
from fabshop.actions.build.change import refuse_closed
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.shop.allowed import require
from fabshop.actions.typed import code as typed_code
from fabshop.actions.typed import one_line, some_line
from fabshop.errors import BadInput, Clash
from fabshop.records.build import Build
from fabshop.records.log import LogEntry, Timer
from fabshop.records.shop import Person

_LETTER = re.compile(r"[A-Za-z0-9]{1,4}")
_LINES = {
    "name": ("Name", 80),
    "class_name": ("Class", 80),
    "event_name": ("Event", 120),
}
_MOMENTS = ("event_on", "pack_out_at")


def build_of(entry: LogEntry) -> Build:
    """The first answer of an action that made or changed a build."""
    if entry.build is None:
        raise Clash("That build is no longer kept here.")
    return entry.build


@once(words.EntryKind.CHANGED, first=build_of)
def add_build(
    *,
    by: Person,
    slug: str,
    letter: str,
    name: str,
    now: datetime,
    class_name: str = "",
    event_name: str = "",
    event_on: date | None = None,
    pack_out_at: datetime | None = None,
    client_id: str | None = None,
) -> Build:
    """Begin a build; `letter` is what the codes of its components begin with."""
    require(by, "own")
    slug = typed_code(slug, field="slug", label="Short name")
    if Build.objects.filter(slug__iexact=slug).exists():
        raise Clash(f"There is a build {slug} already.", field="slug")
    if not _LETTER.fullmatch(letter):
        raise BadInput(
            f"Letter: “{letter[:20]}” will not do. Use 1 to 4 letters or digits, "
            "like T.",
            field="letter",
        )
    other = Build.objects.filter(letter__iexact=letter).first()
    if other is not None:
        raise Clash(f"{other.name} has the letter {other.letter}.", field="letter")
    described = {
        "name": name,
        "class_name": class_name,
        "event_name": event_name,
        "event_on": event_on,
        "pack_out_at": pack_out_at,
    }
    build = Build.objects.create(
        slug=slug, letter=letter, made_at=now, **_checked(described)
    )
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        client_id=client_id,
        build=build,
        text=f"New build: {build.name}.",
    )
    return build


@transaction.atomic
def change_build(*, by: Person, build: Build, now: datetime, **fields: Any) -> Build:
    """Set what is given of: name, class_name, event_name, event_on, pack_out_at."""
    require(by, "own")
    build = Build.objects.select_for_update().get(pk=build.pk)
    refuse_closed(build)
    new = {
        field: value
        for field, value in _checked(fields).items()
        if getattr(build, field) != value
    }
    for field, value in new.items():
        setattr(build, field, value)
    if new:
        build.save(update_fields=list(new))
        said = ", ".join(f"{field.replace('_', ' ')} {new[field]}" for field in new)
        write_entry(
            kind=words.EntryKind.CHANGED, by=by, now=now, build=build, text=f"{said}."
        )
    return build


@transaction.atomic
def close_build(*, by: Person, build: Build, now: datetime) -> Build:
    """Close a build: it is read from now on, and reckoned with no more."""
    require(by, "own")
    build = Build.objects.select_for_update().get(pk=build.pk)
    if build.state == words.BuildState.CLOSED:
        return build
    timer = Timer.objects.filter(start__task__build=build).first()
    if timer is not None:
        raise Clash(
            f"{timer.person.name} is still at work on {timer.start.task}. "
            "Stop that first."
        )
    left = build.tasks.unfinished().count()
    still = f" {left} task{'s' * (left > 1)} left undone." if left else ""
    return _turned(build, words.BuildState.CLOSED, f"Closed.{still}", by=by, now=now)


@transaction.atomic
def reopen_build(*, by: Person, build: Build, now: datetime) -> Build:
    """Take up a closed build again."""
    require(by, "own")
    build = Build.objects.select_for_update().get(pk=build.pk)
    if build.state == words.BuildState.LIVE:
        return build
    return _turned(build, words.BuildState.LIVE, "Taken up again.", by=by, now=now)


def _turned(
    build: Build, state: words.BuildState, text: str, *, by: Person, now: datetime
) -> Build:
    build.state = state
    build.save(update_fields=["state"])
    write_entry(kind=words.EntryKind.CHANGED, by=by, now=now, build=build, text=text)
    return build


def _checked(fields: dict[str, Any]) -> dict[str, Any]:
    kept: dict[str, Any] = {}
    for field, value in fields.items():
        if field in _LINES:
            label, most = _LINES[field]
            check = some_line if field == "name" else one_line
            kept[field] = check(value, field=field, label=label, most=most)
        elif field in _MOMENTS:
            kept[field] = value
        else:
            raise BadInput(f"A build has no “{field}”.", field=field)
    if (at := kept.get("pack_out_at")) is not None and at.tzinfo is None:
        raise BadInput("Pack-out: say in which zone that is.", field="pack_out_at")
    return kept
