"""What has gone off is not worked with, unless the owner lets this task."""

from __future__ import annotations

from datetime import date, datetime

from fabshop import words
from fabshop.errors import Clash
from fabshop.reckoning.facts import ConsumableFact
from fabshop.reckoning.shelf import keeps_on, last_good_day
from fabshop.records.shelf import Consumable
from fabshop.records.task import Task
from fabshop.snapshot.clock import plan_clock
from fabshop.snapshot.shelf import consumable_facts
from fabshop.units import show_day


def shop_day(at: datetime) -> date:
    """The day on the shop's own wall at this moment."""
    return plan_clock(at).day_of(at)


def gone_off_for(task: Task, on: date) -> list[ConsumableFact]:
    """What the task uses that has gone off by then and nobody let it use."""
    codes = list(
        task.needs.filter(kind=words.NeedKind.RACK).values_list("rack_code", flat=True)
    )
    if not codes:
        return []
    rows = Consumable.objects.on_the_shelf().filter(code__in=codes)
    return [
        thing
        for thing in consumable_facts(rows)
        if is_gone_off(thing, on) and task.code not in dict(thing.let)
    ]


def is_gone_off(thing: ConsumableFact, on: date) -> bool:
    return keeps_on(thing, on, on) is words.Keeps.GONE_OFF


def refuse_gone_off(task: Task, *, at: datetime) -> None:
    """Refuse to start or finish a task with what has gone off, naming it."""
    if found := gone_off_for(task, shop_day(at)):
        raise Clash(gone_off_sentence(task, found), code="gone-off")


def gone_off_sentence(task: Task, found: list[ConsumableFact]) -> str:
    names = " and ".join(
        f"{one.id} {one.name}, gone off {show_day(last)}"
        for one in found
        if (last := last_good_day(one))
    )
    return (
        f"Held: {task.code} uses {names}. Take another lot, or let the owner overrule "
        "it with a reason."
    )
