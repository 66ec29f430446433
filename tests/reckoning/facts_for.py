"""Facts for the tests of reckoning: the smallest shop, with what a test adds."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from typing import Any

from fabshop import words
from fabshop.reckoning.facts import (
    BuildFact,
    ComponentFact,
    Facts,
    FinishedTask,
    LineFact,
    NeedFact,
    OrderFact,
    PromiseFact,
    Span,
    StageFact,
    TaskFact,
)

NOW = datetime(2031, 5, 5, 17, 0)  # a Monday
TODAY = NOW.date()
PACK_OUT = datetime(2031, 5, 17, 12, 0)


def day(days: int) -> date:
    """So many days from today."""
    return TODAY + timedelta(days=days)


def at(days: int, hour: int, minute: int = 0) -> datetime:
    """A moment so many days from today."""
    return datetime.combine(day(days), datetime.min.time()).replace(
        hour=hour, minute=minute
    )


def span(days: int, from_hour: int, to_hour: int) -> Span:
    return Span(at(days, from_hour), at(days, to_hour))


def evenings(count: int = 12) -> tuple[Span, ...]:
    """From 18 to 21 h, each day from today on."""
    return tuple(span(days, 18, 21) for days in range(count))


def build(id: str = "buggy", **said: Any) -> BuildFact:
    return BuildFact(id, **{"name": id.title(), "pack_out": PACK_OUT, **said})


def component(id: str, *routes: str, **said: Any) -> ComponentFact:
    """A place on the buggy; each route is the codes that lie over it: `"A B"`."""
    told: dict[str, Any] = {"build": "buggy", "name": id, "off_minutes": 5}
    told |= {"on_minutes": 7, "routes": tuple(tuple(way.split()) for way in routes)}
    return ComponentFact(id, **told | said)


def missing(id: str, *routes: str, **said: Any) -> ComponentFact:
    state = words.ComponentState.MISSING
    return component(id, *routes, state=state, is_on=False, **said)


def task(id: str, **said: Any) -> TaskFact:
    """A task of the buggy of an hour; `cure` and `needs` are given as one says them."""
    told: dict[str, Any] = {"build": "buggy", "title": f"Job {id}", "minutes": 60}
    if cure := said.pop("cure", 0):
        told["stages"] = (StageFact(words.StageKind.CURE, cure),)
    if needs := said.pop("needs", ""):
        told["needs"] = tuple(need(name) for name in needs.split())
    for name in ("after", "opens", "reach", "remove", "fits", "keeps_open"):
        if isinstance(said.get(name), str):
            said[name] = tuple(said[name].split())
    return TaskFact(id, **told | said)


def need(name: str) -> NeedFact:
    """`P1/1` is the whole line, `P1/1=2` two pieces of it."""
    line, _, count = name.partition("=")
    milli = round(float(count) * 1000) if count else None
    return NeedFact(words.NeedKind.ORDER, line, milli)


def done(id: str, **said: Any) -> TaskFact:
    return task(id, state=words.TaskState.DONE, **said)


def order(id: str, *lines: LineFact, **said: Any) -> OrderFact:
    """An order sent today, leads 3, 5 and 8 days, of one piece if nothing is said."""
    told: dict[str, Any] = {
        "title": f"Things {id}",
        "supplier": "Nib & Co",
        "kind": words.OrderKind.BOUGHT,
        "move": words.Move.FIRM,
        "sent_on": TODAY,
        "lead_early_days": 3,
        "lead_likely_days": 5,
        "lead_late_days": 8,
        "lines": lines or (line(f"{id}/1"),),
    }
    return OrderFact(id, **told | said)


def unsent(id: str, *lines: LineFact, **said: Any) -> OrderFact:
    return order(id, *lines, sent_on=None, move=words.Move.ME, **said)


def line(id: str, count: float = 1, **said: Any) -> LineFact:
    told: dict[str, Any] = {
        "order": id.partition("/")[0],
        "title": f"part {id}",
        "hand": words.Hand.NONE,
        "unit": words.Unit.PIECE,
        "quantity_milli": round(count * 1000),
    }
    return LineFact(id, **told | said)


def promise(
    eta: int | None, latest: int | None = None, *, line: str = "", said: str = ""
) -> PromiseFact:
    """A word given yesterday; days count from today."""
    return PromiseFact(
        line=line,
        eta_on=None if eta is None else day(eta),
        latest_on=None if latest is None else day(latest),
        said=said,
        at=NOW - timedelta(days=1),
    )


def finished(family: str, *logged: int, estimated: int = 60) -> list[FinishedTask]:
    return [FinishedTask(family, estimated, minutes) for minutes in logged]


def shop(
    tasks: Iterable[TaskFact] = (),
    components: Iterable[ComponentFact] = (),
    orders: Iterable[OrderFact] = (),
    **said: Any,
) -> Facts:
    """The facts of a shop with one build, open every evening."""
    told: dict[str, Any] = {"now": NOW, "builds": (build(),), "windows": evenings()}
    return Facts(
        tasks=tuple(tasks),
        components=tuple(components),
        orders=tuple(orders),
        **told | said,
    )
