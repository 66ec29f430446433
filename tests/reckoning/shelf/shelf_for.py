"""The shelf for its tests: grams of resin, and the tasks that want some of it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from fabshop import words
from fabshop.reckoning.facts import ConsumableFact, NeedFact, TaskFact
from fabshop.reckoning.shelf import PlannedDay, Stand, stands
from tests.reckoning.facts_for import day, shop, task


def resin(id: str = "C1", left: int = 410, **said: Any) -> ConsumableFact:
    """`left` grams, good for thirty days from today where nothing else is said."""
    told: dict[str, Any] = {"name": "epoxy", "unit": words.ShelfUnit.GRAM}
    told |= {"use_by_on": day(30), **said}
    return ConsumableFact(id, left_milli=left * 1000, **told)


def stand(thing: ConsumableFact, *uses: tuple[str, int | None, int | None]) -> Stand:
    """How it stands: each use is a task, its grams, and its day counted from today."""
    facts = shop([wanting(thing.id, name, grams) for name, grams, _ in uses])
    days = {name: PlannedDay(None if on is None else day(on)) for name, _, on in uses}
    return stands([thing], facts, days)[0]


def wanting(thing: str, name: str, grams: int | None) -> TaskFact:
    milli = None if grams is None else grams * 1000
    need = NeedFact(words.NeedKind.RACK, thing, milli)
    return replace(task(name), needs=(need,))
