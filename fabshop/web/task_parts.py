"""What a task needs and where it happens, one thing a screen."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from fabshop import clock, units, words
from fabshop.actions.task import set_needs, set_sites
from fabshop.errors import ShopError
from fabshop.records.order import OrderLine
from fabshop.records.task import Task
from fabshop.web.gate import for_owner
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import said
from fabshop.web.task_form import MOST_TO_TICK, next_screen
from fabshop.web.typed import Typed

SPARE_ROWS = 2
MOST_LINES = 300
SITES = (
    (words.SiteKind.OPENS, "Works at", "What is worked on, or a hold’s zone."),
    (words.SiteKind.REACH, "Must reach", "What must be open to hand."),
    (words.SiteKind.REMOVE, "Takes off", "What must be off besides."),
    (words.SiteKind.FITS, "Fits", "What it puts on as final."),
    (words.SiteKind.KEEPS_OPEN, "Keeps open", "What may not go on until it is done."),
)

Row = dict[str, Any]


@for_owner
def task_needs(request: HttpRequest, code: str) -> HttpResponse:
    """Order lines, things on the rack, tools; empty quantity is all of the line."""
    task = task_with(code, "needs__line__order")
    columns = ("kind", "what", "quantity", "note")
    kept = [
        {
            "kind": need.kind,
            "what": f"{need.line.order.code}/{need.line.number}"
            if need.line
            else need.rack_code,
            "quantity": _shown(need.quantity_milli),
            "note": need.note,
        }
        for need in task.needs.all()
    ]
    lines = OrderLine.objects.filter(order__given_up_at=None).exclude(
        order__move=words.Move.DONE
    )
    context = {
        **rows_of(request, columns, kept, blank={"kind": "order"}),
        "kinds": words.NeedKind.choices(),
        "open_lines": lines.select_related("order").order_by("order__code", "number")[
            :MOST_LINES
        ],
    }

    def read(form: Typed) -> None:
        set_needs(task=task, needs=_needs(form), **said(request))

    return part_form(request, task, context, "needs", read, then="task-sites")


@for_owner
def task_sites(request: HttpRequest, code: str) -> HttpResponse:
    """Where on the build it happens, by kind; codes are ticked or written."""
    task = task_with(code, "sites__component")
    places = []
    if task.build:
        places = list(task.build.components.present()[: MOST_TO_TICK + 1])
    if len(places) > MOST_TO_TICK:
        places = []
    shown = {place.code for place in places}
    form = Typed(request)
    kinds = []
    for kind, title, hint in SITES:
        codes = (
            form.codes(kind.value)
            if request.method == "POST"
            else [s.component.code for s in task.sites.all() if s.kind == kind]
        )
        beside = " ".join(code for code in codes if code not in shown)
        kinds.append((kind.value, title, hint, codes, beside))
    context = {"kinds": kinds, "places": places}

    def read(form: Typed) -> None:
        sites = [(kind, code) for kind, _, _, codes, _ in kinds for code in codes]
        set_sites(task=task, sites=sites, **said(request))

    return part_form(request, task, context, "sites", read, then="task-stages")


def task_with(code: str, *parts: str) -> Task:
    tasks = Task.objects.select_related("build").prefetch_related(*parts)
    return get_object_or_404(tasks, code=code)


def part_form(
    request: HttpRequest,
    task: Task,
    context: Context,
    page: str,
    read: Callable[[Typed], None],
    *,
    then: str,
) -> HttpResponse:
    context = {
        **context,
        "now": clock.now(),
        "task": task,
        "is_new": "new" in request.GET,
    }
    if request.method != "POST" or request.POST.get("more"):
        return respond(request, f"task/{page}.html", "", context)
    try:
        read(Typed(request))
    except ShopError as error:
        return refused(request, error, f"task/{page}.html", "", context)
    return next_screen(request, task, then)


def rows_of(
    request: HttpRequest,
    columns: tuple[str, ...],
    kept: Iterable[Row],
    *,
    blank: Row,
    filled: tuple[str, ...] | None = None,
) -> Context:
    """What stands in the rows of a form, and some empty ones to write into."""
    if request.method == "POST":
        form = Typed(request)
        wanted = filled or tuple(c for c in columns if c != "kind")
        rows = [
            {"number": n, **{name: form.raw(f"r-{n}-{name}") for name in columns}}
            for n in form.rows("r", wanted)
        ]
    else:
        rows = [{"number": n, **row} for n, row in enumerate(kept)]
    first = max((row["number"] for row in rows), default=-1) + 1
    empty = {name: "" for name in columns} | blank
    spare = [{**empty, "number": first + n} for n in range(SPARE_ROWS)]
    return {"rows": rows + spare}


def _needs(form: Typed) -> list[Row]:
    found = []
    for n in form.rows("r", ("what", "quantity")):
        kind = form.choice(f"r-{n}-kind", "Kind", words.NeedKind, words.NeedKind.ORDER)
        what = form.needed(f"r-{n}-what", f"What, line {n + 1}", most=45)
        need: Row = {
            "kind": kind,
            "quantity_milli": form.milli(f"r-{n}-quantity", f"How much, line {n + 1}"),
            "note": form.text(f"r-{n}-note", f"Note, line {n + 1}", most=120),
        }
        if kind is words.NeedKind.ORDER:
            need["line"] = _line(form, n, what)
        else:
            need["rack_code"] = what
        found.append(need)
    form.refuse_if_wrong()
    return found


def _line(form: Typed, n: int, seen: str) -> OrderLine | None:
    code, _, number = seen.partition("/")
    line = None
    if number.isdecimal() or not number:
        line = OrderLine.objects.filter(
            order__code=code, number=int(number[:4] or 1)
        ).first()
    if line is None:
        form.wrong(
            f"r-{n}-what",
            f"What, line {n + 1}: “{seen[:40]}” is no order line. Write it like P02/1.",
        )
    return line


def _shown(milli: int | None) -> str:
    return "" if milli is None else units.show_milli(milli)
