"""The facts that reckoning works on: frozen, by their codes, on the shop's clock.

Moments are naive datetimes on the plan's clock: the shop's zone with the UTC offset
that holds at `Facts.now`, so that differences are real minutes across a clock change.
Quantities are thousandths of the line's unit, lengths micrometres, masses milligrams.
"""

from fabshop.reckoning.facts.build import (
    BuildFact,
    ComponentFact,
    FasteningFact,
)
from fabshop.reckoning.facts.joint import JointFact
from fabshop.reckoning.facts.order import (
    LineFact,
    OrderFact,
    PromiseFact,
    SlipFact,
)
from fabshop.reckoning.facts.schedule import Besides, RunningFact, StoreFact
from fabshop.reckoning.facts.shelf import ConsumableFact, TrayFact
from fabshop.reckoning.facts.shop import DayFact, Span
from fabshop.reckoning.facts.stock import PieceFact, WishFact
from fabshop.reckoning.facts.task import (
    FallbackFact,
    FinishedTask,
    NeedFact,
    RunFact,
    StageFact,
    TaskFact,
)
from fabshop.reckoning.facts.whole import Facts

__all__ = [
    "Besides",
    "BuildFact",
    "ComponentFact",
    "ConsumableFact",
    "DayFact",
    "Facts",
    "FallbackFact",
    "FasteningFact",
    "FinishedTask",
    "JointFact",
    "LineFact",
    "NeedFact",
    "OrderFact",
    "PieceFact",
    "PromiseFact",
    "RunFact",
    "SlipFact",
    "RunningFact",
    "Span",
    "StageFact",
    "StoreFact",
    "TaskFact",
    "TrayFact",
    "WishFact",
]
