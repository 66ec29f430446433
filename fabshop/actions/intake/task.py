"""Tasks out of a table, with what they come after, need, open and fit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fabshop import words
from fabshop.actions.intake.cell import Cells
from fabshop.actions.intake.kind import Kind, Taker
from fabshop.actions.intake.table import Row
from fabshop.actions.task import add_task, set_after
from fabshop.errors import ShopError
from fabshop.records.build import Build
from fabshop.records.order import OrderLine
from fabshop.records.shop import Machine
from fabshop.records.task import Task
from fabshop.units import parse_milli

_SITES = (
    words.SiteKind.OPENS,
    words.SiteKind.REACH,
    words.SiteKind.REMOVE,
    words.SiteKind.FITS,
    words.SiteKind.KEEPS_OPEN,
)
_FLAGS = (
    "is_hold",
    "is_unbroken",
    "is_closed_up",
    "is_for_good",
    "is_noisy",
    "in_teardown",
)


def _add_task(taker: Taker, rows: Sequence[Row]) -> None:
    cells = Cells(rows[0])
    build = None
    if seen := cells.text("build"):
        build = Build.objects.filter(slug__iexact=seen).first() or (
            Build.objects.filter(letter__iexact=seen).first()
        )
        if build is None:
            cells.wrong("build", "is no build here; empty means shared by all")
    minutes = cells.minutes("minutes")
    fields: dict[str, Any] = {
        "family": cells.text("family") or "other",
        "points": cells.points("points"),
        "is_required": cells.is_yes("is_required", otherwise=True),
        **{flag: cells.is_yes(flag) for flag in _FLAGS},
        "stages": _stages(cells, minutes),
        "needs": _needs(cells),
        "sites": [
            (kind, code)
            for kind in _SITES
            for code in cells.codes(kind.value.replace("-", "_"))
        ],
    }
    cells.refuse_if_bad()
    add_task(
        by=taker.by,
        now=taker.now,
        code=cells.text("code"),
        title=cells.text("title"),
        build=build,
        minutes=minutes,
        **fields,
    )


def _stages(cells: Cells, minutes: int | None) -> list[dict[str, Any]]:
    """Hands-on, then its run, then its cure; only where there is a run or a cure."""
    run, cure = cells.minutes("run_minutes"), cells.minutes("cure_minutes")
    machine = None
    if seen := cells.text("machine"):
        machine = Machine.objects.filter(code=seen).first()
        if machine is None:
            cells.wrong("machine", "is no machine of this shop")
        if not run:
            cells.wrong("machine", "is for a run, and run_minutes is empty")
    if not run and not cure:
        return []
    stages: list[dict[str, Any]] = []
    if minutes:
        stages.append({"kind": words.StageKind.HANDS_ON, "minutes": minutes})
    if run:
        stages.append({"kind": words.StageKind.RUN, "minutes": run, "machine": machine})
    if cure:
        stages.append({"kind": words.StageKind.CURE, "minutes": cure})
    return stages


def _needs(cells: Cells) -> list[dict[str, Any]]:
    """`P05/1:1` is one piece of a line, `P11` all of its first, the rest the rack's."""
    needs = []
    for token in cells.codes("needs"):
        what, _, much = token.partition(":")
        quantity = None
        if much:
            try:
                quantity = parse_milli(much, field="needs")
            except ShopError:
                cells.wrong("needs", f"“{much[:20]}” is not how much of {what[:40]}")
        line = _line(what)
        if line is not None:
            needs.append(
                {
                    "kind": words.NeedKind.ORDER,
                    "line": line,
                    "quantity_milli": quantity,
                }
            )
        elif "/" in what:
            cells.wrong("needs", f"“{what[:40]}” is no order line here")
        else:
            needs.append(
                {
                    "kind": words.NeedKind.RACK,
                    "rack_code": what,
                    "quantity_milli": quantity,
                }
            )
    return needs


def _line(what: str) -> OrderLine | None:
    code, _, number = what.partition("/")
    if number and not (number.isdecimal() and len(number) < 5):
        return None
    return OrderLine.objects.filter(order__code=code, number=int(number or 1)).first()


def _link_task(taker: Taker, row: Row) -> None:
    codes = Cells(row).codes("after")
    if codes:
        task = Task.objects.get(code=row["code"])
        set_after(by=taker.by, now=taker.now, task=task, after=codes)


TASKS = Kind(
    "tasks",
    (
        ("code", "W20, never used again"),
        ("build", "slug or letter; empty is shared by all"),
        ("title", "Fit drive pod"),
        ("family", "for your own factor: wiring"),
        ("minutes", "hands-on, first guess: 50 or 1 h 10"),
        ("run_minutes", "unattended: 14 h"),
        ("machine", "code of the machine that runs"),
        ("cure_minutes", "12 h"),
        ("after", "codes: W19 W16"),
        ("needs", "P05/1:1 or P11 or C04 from the rack"),
        ("opens", "codes of what is worked at"),
        ("reach", "codes of what must be reached"),
        ("remove", "codes of what must be off besides"),
        ("fits", "codes of what it puts on as final"),
        ("keeps_open", "codes of what may not go on before"),
        ("is_required", "no where it is only for points"),
        ("points", "12 or -3"),
        *((flag, "yes or no") for flag in _FLAGS),
    ),
    ("code", "title"),
    "code",
    _add_task,
    _link_task,
)
