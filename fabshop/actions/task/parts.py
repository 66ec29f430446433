"""What belongs to a task, set whole: stages, needs, sites, readings, Plan B."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from fabshop import words
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.log.timer import locked_task
from fabshop.actions.moved import move
from fabshop.actions.shop import require
from fabshop.actions.task.locked import task_of
from fabshop.actions.typed import number, one_line, some_line
from fabshop.errors import BadInput, Clash
from fabshop.records.build import Component
from fabshop.records.order import OrderLine
from fabshop.records.shop import Machine, Person
from fabshop.records.task import Fallback, Need, Reading, Site, Stage, Task

MOST_MINUTES = 100_000
_POINTS = 32_000
_BOUND = Decimal("99999999.9999")

Rows = Sequence[Mapping[str, Any]]


@once(words.EntryKind.CHANGED, first=task_of)
def set_stages(
    *, by: Person, task: Task, stages: Rows, now: datetime, client_id: str | None = None
) -> Task:
    """Say the stretches of a task in their order: hands-on, runs, cures."""
    return _set(by, task, "Stages", now, client_id, lambda t: put_stages(t, stages))


@once(words.EntryKind.CHANGED, first=task_of)
def set_needs(
    *, by: Person, task: Task, needs: Rows, now: datetime, client_id: str | None = None
) -> Task:
    """Say what must be in hand: order lines, things on the rack, tools."""
    return _set(by, task, "Needs", now, client_id, lambda t: put_needs(t, needs))


@once(words.EntryKind.CHANGED, first=task_of)
def set_sites(
    *,
    by: Person,
    task: Task,
    sites: Iterable[tuple[words.SiteKind | str, Component | str]],
    now: datetime,
    client_id: str | None = None,
) -> Task:
    """Say where a task happens: pairs of how it belongs and which component."""
    return _set(by, task, "Places", now, client_id, lambda t: put_sites(t, sites))


@once(words.EntryKind.CHANGED, first=task_of)
def set_readings(
    *,
    by: Person,
    task: Task,
    readings: Rows,
    now: datetime,
    client_id: str | None = None,
) -> Task:
    """Say what must be ticked or measured; what was taken already stays as it was."""
    return _set(
        by, task, "Readings", now, client_id, lambda t: put_readings(t, readings)
    )


@once(words.EntryKind.CHANGED, first=task_of)
def set_fallbacks(
    *,
    by: Person,
    task: Task,
    fallbacks: Rows,
    now: datetime,
    client_id: str | None = None,
) -> Task:
    """Say the lesser ways to do a task; a chosen one of the same title stays chosen."""
    return _set(
        by, task, "Plan B", now, client_id, lambda t: put_fallbacks(t, fallbacks)
    )


def put_stages(task: Task, stages: Rows) -> None:
    good = []
    for place, row in enumerate(stages, start=1):
        kind = _word(words.StageKind, row.get("kind"), "kind", place)
        machine = row.get("machine")
        if isinstance(machine, str):
            code = machine
            machine = Machine.objects.filter(code=code).first() if code else None
            if code and machine is None:
                raise BadInput(f"Line {place}: there is no machine {code}.")
        if machine is not None and kind != words.StageKind.RUN:
            raise BadInput(f"Line {place}: only a run needs a machine.", field="stages")
        minutes = number(
            row.get("minutes", 0),
            field="stages",
            label=f"Line {place}, minutes",
            most=MOST_MINUTES,
        )
        good.append(
            Stage(task=task, number=place, kind=kind, minutes=minutes, machine=machine)
        )
    task.stages.all().delete()
    Stage.objects.bulk_create(good)


def put_needs(task: Task, needs: Rows) -> None:
    good = []
    for place, row in enumerate(needs, start=1):
        kind = _word(words.NeedKind, row.get("kind"), "kind", place)
        milli, line = row.get("quantity_milli"), row.get("line")
        if isinstance(line, str):
            line = _line(line)
        if (kind == words.NeedKind.ORDER) != (line is not None):
            raise BadInput(f"Line {place}: which order line?", field="needs")
        if milli is not None:
            number(milli, field="needs", label=f"Line {place}, quantity")
            if not milli or (
                line is not None and line.unit == words.Unit.PIECE and milli % 1000
            ):
                raise BadInput(
                    f"Line {place}: a need is for whole pieces, one or more; leave "
                    "it blank for the whole line.",
                    field="needs",
                )
        rack = row.get("rack_code", "")
        if line is None:
            rack = some_line(rack, field="needs", label=f"Line {place}", most=40)
        note = one_line(row.get("note", ""), field="needs", label="Note", most=120)
        good.append(
            Need(
                task=task,
                kind=kind,
                line=line,
                rack_code=rack,
                quantity_milli=milli,
                note=note,
            )
        )
    task.needs.all().delete()
    Need.objects.bulk_create(good)


def put_sites(
    task: Task, sites: Iterable[tuple[words.SiteKind | str, Component | str]]
) -> None:
    wanted: dict[tuple[int, str], Site] = {}
    for kind, one in sites:
        if kind not in list(words.SiteKind):
            raise BadInput(f"“{kind}” is no way to belong to a part.", field="sites")
        part = one
        if isinstance(part, str):
            found = Component.objects.filter(code=part).first()
            if found is None:
                raise BadInput(f"There is no part {part}.", field="sites")
            part = found
        if task.build_id is not None and part.build_id != task.build_id:
            raise BadInput(f"{part} is on another build.", field="sites")
        wanted[part.pk, kind] = Site(task=task, component=part, kind=kind)
    task.sites.all().delete()
    Site.objects.bulk_create(wanted.values())


def put_readings(task: Task, readings: Rows) -> None:
    for place, row in enumerate(readings, start=1):
        fields = _reading(row, place)
        Reading.objects.update_or_create(task=task, number=place, defaults=fields)
    spare = task.readings.filter(number__gt=len(readings))
    if kept := spare.filter(taken__isnull=False).first():
        raise Clash(
            f"“{kept.label}” has been taken already; it stays, change its words.",
            field="readings",
        )
    spare.delete()


def put_fallbacks(task: Task, fallbacks: Rows) -> None:
    chosen = {way.title: way.chosen_at for way in task.fallbacks.all()}
    good = []
    for place, row in enumerate(fallbacks, start=1):
        name = f"Line {place}"
        title = some_line(row.get("title", ""), field="fallbacks", label=name, most=160)
        points = row.get("points") or 0
        if abs(points) > _POINTS:
            raise BadInput(f"{name}: {points} points is more than can be.")
        minutes = number(
            row.get("minutes", 0),
            field="fallbacks",
            label=f"{name}, minutes",
            most=MOST_MINUTES,
        )
        uses = one_line(row.get("uses", ""), field="fallbacks", label="Takes", most=80)
        good.append(
            Fallback(
                task=task,
                title=title,
                minutes=minutes,
                points=points,
                uses=uses,
                chosen_at=chosen.get(title),
            )
        )
    task.fallbacks.all().delete()
    Fallback.objects.bulk_create(good)


def _set(
    by: Person,
    task: Task,
    what: str,
    now: datetime,
    client_id: str | None,
    put: Callable[[Task], None],
) -> Task:
    require(by, "own")
    task = locked_task(task)
    put(task)
    move(task, {})
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        client_id=client_id,
        task=task,
        text=f"Changed: {what.lower()}",
    )
    return task


def _reading(row: Mapping[str, Any], place: int) -> dict[str, Any]:
    name = f"Line {place}"
    kind = _word(words.ReadingKind, row.get("kind"), "kind", place)
    low, high = row.get("low"), row.get("high")
    for bound in (low, high):
        if bound is not None and not abs(Decimal(bound)) <= _BOUND:
            raise BadInput(f"{name}: {bound} is no figure.", field="readings")
    if low is not None and high is not None and low > high:
        raise BadInput(
            f"{name}: at least {low}, but at most {high}. Swap them.", field="readings"
        )
    is_number = kind == words.ReadingKind.NUMBER
    return {
        "label": some_line(
            row.get("label", ""), field="readings", label=name, most=120
        ),
        "kind": kind,
        "unit": one_line(row.get("unit", ""), field="readings", label=name, most=12),
        "low": low if is_number else None,
        "high": high if is_number else None,
    }


def _word(kind: type[words.Word], seen: Any, field: str, place: int) -> words.Word:
    if seen not in list(kind):
        choices = ", ".join(word.label for word in kind)
        raise BadInput(f"Line {place}: “{seen}” is none of {choices}.", field=field)
    return kind(seen)


def _line(seen: str) -> OrderLine:
    code, _, place = seen.partition("/")
    if not place:
        place = "1"
    line = None
    if place.isdecimal() and len(place) < 6:
        line = OrderLine.objects.filter(order__code=code, number=int(place)).first()
    if line is None:
        raise BadInput(f"There is no order line {seen}.", field="needs")
    return line
