"""Facts about what is used up, and about the trays of screws, nuts and ties."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from fabshop import words


@dataclass(frozen=True, slots=True)
class ConsumableFact:
    """What is left of it and until when it is good; a day that is None is unknown.

    `coming_milli` is what orders still owe, in its unit; `firm` the one that last
    brought it and `lead_days` how long that one takes at the latest, `likely_days`
    likely. `let` names the tasks that the owner lets use it although its last good
    day has passed.
    """

    id: str
    name: str
    unit: words.ShelfUnit
    left_milli: int
    lot: str = ""
    is_opened: bool = False
    opened_on: date | None = None
    use_by_on: date | None = None
    opened_life_days: int | None = None
    is_lasting: bool = False
    place: str = ""
    hazard: words.Hazard = words.Hazard.NONE
    note: str = ""
    coming_milli: int = 0
    firm: str = ""
    lead_days: int | None = None
    likely_days: int | None = None
    let: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class TrayFact:
    """Screws, nuts or ties of one size and how many lie there."""

    id: str
    size: str
    left_milli: int
    kind: words.TrayKind = words.TrayKind.SCREW
    is_single_use: bool = False
    place: str = ""
    note: str = ""
    coming_milli: int = 0
