"""Facts about builds and what sits on them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from fabshop import words


@dataclass(frozen=True, slots=True)
class BuildFact:
    id: str
    name: str
    pack_out: datetime | None = None
    event_on: date | None = None


@dataclass(frozen=True, slots=True)
class FasteningFact:
    count: int
    size: str
    locker: words.Locker = words.Locker.NONE
    single_use: bool = False
    screw: bool = True
    bag: str = ""
    torque_mnm: int | None = None


@dataclass(frozen=True, slots=True)
class ComponentFact:
    """A place on a build. `off_minutes` and `on_minutes` are None where unknown.

    `routes`: each lists what must be off to reach this one; one whole route is
    enough; none, or an empty route, means reachable as it stands.
    """

    id: str
    build: str
    name: str
    state: words.ComponentState = words.ComponentState.FINAL
    is_on: bool = True
    twin: str = ""
    side: words.Side = words.Side.NONE
    off_minutes: int | None = 0
    on_minutes: int | None = 0
    routes: tuple[tuple[str, ...], ...] = ()
    for_good: bool = False
    held_by: str = ""
    watch: str = ""
    bares_battery_plug: bool = False
    fastenings: tuple[FasteningFact, ...] = ()

    @property
    def is_absent(self) -> bool:
        """Not made yet: only a task that fits it puts it on."""
        return self.state is words.ComponentState.MISSING
