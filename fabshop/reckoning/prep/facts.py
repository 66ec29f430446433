"""Steps of a checklist and the ticks on them, as facts."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from fabshop import words


@dataclass(frozen=True, slots=True)
class StepFact:
    """One step. `minutes` of a start mark is the shop's own, None = asked each time."""

    number: int
    text: str
    stage: words.PrepStage
    kind: words.PrepKind = words.PrepKind.TICK
    does: words.PrepDoes = words.PrepDoes.NOTHING
    is_stop: bool = False
    minutes: int | None = None
    unit: str = ""
    caution: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class TickFact:
    """What somebody said of a step; later ticks of the same step replace it."""

    step: int
    at: datetime
    is_done: bool = True
    by: str = ""
    value: Decimal | None = None
    minutes: int | None = None
