"""How a task goes: its runs and cures, a hold's readings, and its lesser ways."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation

from django.http import HttpRequest, HttpResponse

from fabshop import units, words
from fabshop.actions.task import set_fallbacks, set_readings, set_stages
from fabshop.records.shop import Machine
from fabshop.web.gate import for_owner
from fabshop.web.tap import said
from fabshop.web.task_parts import Row, part_form, rows_of, task_with
from fabshop.web.typed import Typed


@for_owner
def task_stages(request: HttpRequest, code: str) -> HttpResponse:
    """Hands-on, unattended runs and cures, in their order."""
    task = task_with(code, "stages__machine")
    kept = [
        {
            "kind": stage.kind,
            "minutes": units.show_minutes(stage.minutes),
            "machine": stage.machine.code if stage.machine else "",
        }
        for stage in task.stages.all()
    ]
    columns = ("kind", "minutes", "machine")
    context = {
        **rows_of(
            request, columns, kept, blank={"kind": "hands-on"}, filled=("minutes",)
        ),
        "kinds": words.StageKind.choices(),
        "machines": Machine.objects.values_list("code", "name"),
    }

    def read(form: Typed) -> None:
        set_stages(task=task, stages=_stages(form), **said(request))

    then = "task-readings" if task.is_hold else "task-fallbacks"
    return part_form(request, task, context, "stages", read, then=then)


@for_owner
def task_readings(request: HttpRequest, code: str) -> HttpResponse:
    """What must be ticked or measured before the hold can be signed."""
    task = task_with(code, "readings")
    kept = [
        {
            "label": reading.label,
            "kind": reading.kind,
            "unit": reading.unit,
            "low": _plain(reading.low),
            "high": _plain(reading.high),
        }
        for reading in task.readings.all()
    ]
    columns = ("label", "kind", "unit", "low", "high")
    context = {
        **rows_of(request, columns, kept, blank={"kind": "tick"}, filled=("label",)),
        "kinds": words.ReadingKind.choices(),
    }

    def read(form: Typed) -> None:
        set_readings(task=task, readings=_readings(form), **said(request))

    return part_form(request, task, context, "readings", read, then="task-fallbacks")


@for_owner
def task_fallbacks(request: HttpRequest, code: str) -> HttpResponse:
    """Plan B: lesser ways, what they take and what they are worth."""
    task = task_with(code, "fallbacks")
    kept = [
        {
            "title": way.title,
            "minutes": units.show_minutes(way.minutes),
            "points": way.points,
            "uses": way.uses,
        }
        for way in task.fallbacks.all()
    ]
    columns = ("title", "minutes", "points", "uses")
    context = rows_of(request, columns, kept, blank={}, filled=("title", "minutes"))

    def read(form: Typed) -> None:
        set_fallbacks(task=task, fallbacks=_fallbacks(form), **said(request))

    return part_form(request, task, context, "fallbacks", read, then="task")


def _stages(form: Typed) -> list[Row]:
    found = []
    for n in form.rows("r", ("minutes",)):
        kind = form.choice(
            f"r-{n}-kind", "Kind", words.StageKind, words.StageKind.HANDS_ON
        )
        machine = None
        seen = form.raw(f"r-{n}-machine")
        if seen and kind is words.StageKind.RUN:
            machine = Machine.objects.filter(code=seen).first()
            if machine is None:
                form.wrong(
                    f"r-{n}-machine", f"Machine: “{seen[:40]}” is none of this shop."
                )
        found.append(
            {
                "kind": kind,
                "minutes": form.minutes(f"r-{n}-minutes", f"Minutes, line {n + 1}")
                or 0,
                "machine": machine,
            }
        )
    form.refuse_if_wrong()
    return found


def _readings(form: Typed) -> list[Row]:
    found = []
    for n in form.rows("r", ("label",)):
        found.append(
            {
                "label": form.needed(f"r-{n}-label", f"Label, line {n + 1}", most=120),
                "kind": form.choice(
                    f"r-{n}-kind", "Kind", words.ReadingKind, words.ReadingKind.TICK
                ),
                "unit": form.text(f"r-{n}-unit", f"Unit, line {n + 1}", most=12),
                "low": _bound(form, f"r-{n}-low", f"At least, line {n + 1}"),
                "high": _bound(form, f"r-{n}-high", f"At most, line {n + 1}"),
            }
        )
    form.refuse_if_wrong()
    return found


def _bound(form: Typed, name: str, label: str) -> Decimal | None:
    seen = form.raw(name)
    if not seen:
        return None
    try:
        bound = Decimal(seen.replace(",", "."))
    except InvalidOperation:
        bound = Decimal("NaN")
    if not bound.is_finite() or abs(bound) >= 10**8:
        form.wrong(name, f"{label}: “{seen[:40]}” is not a figure.")
        return None
    return bound


def _fallbacks(form: Typed) -> list[Row]:
    found = []
    for n in form.rows("r", ("title", "minutes")):
        found.append(
            {
                "title": form.needed(f"r-{n}-title", f"Way, line {n + 1}", most=160),
                "minutes": form.minutes(f"r-{n}-minutes", f"Minutes, line {n + 1}")
                or 0,
                "points": form.points(f"r-{n}-points", f"Points, line {n + 1}"),
                "uses": form.text(f"r-{n}-uses", f"Takes, line {n + 1}", most=80),
            }
        )
    form.refuse_if_wrong()
    return found


def _plain(figure: Decimal | None) -> str:
    return "" if figure is None else f"{figure.normalize():f}"
