"""Facts about hours and days."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True, slots=True)
class Span:
    """From `start` up to `end`."""

    start: datetime
    end: datetime

    def __post_init__(self) -> None:
        if self.end <= self.start:
            raise ValueError(f"span ends {self.end} before it starts {self.start}")


@dataclass(frozen=True, slots=True)
class DayFact:
    """What is out of the ordinary on one day."""

    on: date
    is_off: bool = False
    has_deliveries: bool = True
    may_run_machines: bool = True
    quiet_until: datetime | None = None
