"""A small shop and its plan, as it would be kept."""

from __future__ import annotations

from datetime import date
from typing import Any

from fabshop.reckoning.facts import Besides, Facts, FallbackFact
from fabshop.reckoning.planning.story import Story
from fabshop.reckoning.rough import shop_plan
from tests.reckoning.facts_for import day, order, shop, span, task

POD_B = FallbackFact("Refit old pod", 30, 1, "SP1")
EVENINGS = tuple(span(n, 18, 21) for n in range(12))


def small_shop(**said: Any) -> Facts:
    """A pod that waits for P1, a nose with its mould, and a must behind both."""
    told: dict[str, Any] = {
        "tasks": [
            task("pod", minutes=60, points=5, needs="P1/1", fallbacks=(POD_B,)),
            task("mould", minutes=60, required=False, cure=300),
            task("nose", minutes=30, points=8, required=False, after="mould"),
            task("shake", minutes=90, after="pod nose"),
            task("trim", minutes=2000, points=9, required=False),
        ],
        "orders": [p1(day(0))],
        "windows": EVENINGS,
    }
    return shop(**told | said)


def p1(sent_on: date | None) -> Any:
    return order("P1", sent_on=sent_on, lead_likely_days=2, lead_late_days=4)


def plan_of(facts: Facts, *, late: bool = False, **said: Any) -> dict[str, Any]:
    return shop_plan(facts, Besides(), [], late=late, time_limit_s=2.0, **said)


def story_of(facts: Facts, **said: Any) -> Story:
    plan = plan_of(facts, **said)
    return Story(plan["question"], plan["answer"], plan["beside"])
