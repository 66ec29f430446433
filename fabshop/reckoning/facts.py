"""The facts that reckoning works on: frozen, by their codes, on the shop's clock.

Moments are naive datetimes on the plan's clock: the shop's zone with the UTC offset
that holds at `Facts.now`, so that differences are real minutes across a clock change.
Quantities are thousandths of the line's unit, lengths micrometres, masses milligrams.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

from fabshop import words


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


@dataclass(frozen=True, slots=True)
class StageFact:
    kind: words.StageKind
    minutes: int
    machine: str = ""


@dataclass(frozen=True, slots=True)
class NeedFact:
    """`name` is a line id (`P02/1`), a rack code or a tool; None = the whole line."""

    kind: words.NeedKind
    name: str
    quantity_milli: int | None = None


@dataclass(frozen=True, slots=True)
class FallbackFact:
    title: str
    minutes: int
    points: int = 0
    uses: str = ""
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class TaskFact:
    """A piece of work. `build` is "" where it is shared by all builds.

    `minutes` is the latest guess of its hands-on minutes (not factored), `left` what
    a person said is left, `logged` what the log has booked on it so far.
    """

    id: str
    build: str
    title: str
    family: str = "other"
    state: words.TaskState = words.TaskState.OPEN
    minutes: int = 0
    left: int | None = None
    logged: int = 0
    stages: tuple[StageFact, ...] = ()
    after: tuple[str, ...] = ()
    needs: tuple[NeedFact, ...] = ()
    opens: tuple[str, ...] = ()
    reach: tuple[str, ...] = ()
    remove: tuple[str, ...] = ()
    fits: tuple[str, ...] = ()
    keeps_open: tuple[str, ...] = ()
    required: bool = True
    points: int = 0
    unbroken: bool = False
    closed_up: bool = False
    for_good: bool = False
    is_hold: bool = False
    hold: words.HoldVerdict | None = None
    in_teardown: bool = False
    noisy: bool = False
    cured_at: datetime | None = None
    under_way_by: tuple[str, ...] = ()
    fallbacks: tuple[FallbackFact, ...] = ()

    @property
    def is_finished(self) -> bool:
        return self.state in (
            words.TaskState.DONE,
            words.TaskState.ACCEPTED,
            words.TaskState.GIVEN_UP,
        )


@dataclass(frozen=True, slots=True)
class PromiseFact:
    """One word given on an arrival; `line` is "" where it is for the whole order."""

    line: str
    eta_on: date | None
    latest_on: date | None
    said: str
    at: datetime


@dataclass(frozen=True, slots=True)
class LineFact:
    """One line of an order. What is owed is what nothing above accounts for.

    `reordered` names the lines, with how much, that make good what was written off
    here; `taken_milli` is what finished tasks have used up; `came_on` is the day of
    the last count, `rest_from` the day on which it was agreed that the rest follows.
    """

    id: str
    order: str
    title: str
    hand: words.Hand
    unit: words.Unit
    quantity_milli: int
    accepted_milli: int = 0
    wrong_milli: int = 0
    written_off_milli: int = 0
    in_the_box: bool = False
    component: str = ""
    reordered: tuple[tuple[str, int], ...] = ()
    taken_milli: int = 0
    came_on: date | None = None
    rest_from: date | None = None

    @property
    def owed_milli(self) -> int:
        """What is still to come: ordered less accepted less settled otherwise."""
        return max(
            0, self.quantity_milli - self.accepted_milli - self.written_off_milli
        )


@dataclass(frozen=True, slots=True)
class OrderFact:
    id: str
    title: str
    supplier: str
    kind: words.OrderKind
    move: words.Move
    build: str = ""
    sent_on: date | None = None
    lead_early_days: int | None = None
    lead_likely_days: int | None = None
    lead_late_days: int | None = None
    file_name: str = ""
    file_revision: str = ""
    sent_revision: str = ""
    given_up: bool = False
    made_on: date | None = None
    promises: tuple[PromiseFact, ...] = ()
    lines: tuple[LineFact, ...] = ()


@dataclass(frozen=True, slots=True)
class FinishedTask:
    """A finished task with a guess and logged minutes, for its family's factor."""

    family: str
    estimated: int
    logged: int


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything that reckoning may know of the shop at `now`.

    `utc_offset_minutes` is how far the plan's clock is ahead of UTC. `windows` are
    those of the owner that are not over yet; `past_windows` are kept beside them so
    that a digest does not change with the passing of time. `wall_shifts`: from that
    day on the wall clock is so many minutes ahead of the plan's clock; empty where
    no clock change lies ahead. A task that is named but not among `tasks` is
    finished, or of a closed build.
    """

    now: datetime
    utc_offset_minutes: int = 0
    builds: tuple[BuildFact, ...] = ()
    components: tuple[ComponentFact, ...] = ()
    tasks: tuple[TaskFact, ...] = ()
    orders: tuple[OrderFact, ...] = ()
    windows: tuple[Span, ...] = ()
    past_windows: tuple[Span, ...] = ()
    helper_windows: tuple[tuple[str, Span], ...] = ()
    wall_shifts: tuple[tuple[date, int], ...] = ()
    days: tuple[DayFact, ...] = ()
    finished: tuple[FinishedTask, ...] = ()
    delivery_minute: int = 18 * 60
    setup_minutes: int = 0
    factor_bites_after: int = 5
    entries: int = 0
    component_by_id: dict[str, ComponentFact] = field(init=False, compare=False)
    task_by_id: dict[str, TaskFact] = field(init=False, compare=False)
    order_by_id: dict[str, OrderFact] = field(init=False, compare=False)
    line_by_id: dict[str, LineFact] = field(init=False, compare=False)
    build_by_id: dict[str, BuildFact] = field(init=False, compare=False)
    day_by_date: dict[date, DayFact] = field(init=False, compare=False)

    def __post_init__(self) -> None:
        set_ = object.__setattr__
        set_(self, "component_by_id", {c.id: c for c in self.components})
        set_(self, "task_by_id", {t.id: t for t in self.tasks})
        set_(self, "order_by_id", {o.id: o for o in self.orders})
        set_(self, "build_by_id", {b.id: b for b in self.builds})
        set_(self, "day_by_date", {day.on: day for day in self.days})
        set_(
            self,
            "line_by_id",
            {line.id: line for order in self.orders for line in order.lines},
        )

    def moment_on(self, on: date, minute: int) -> datetime:
        """The plan's moment when the wall clock shows `minute` on that day."""
        shift = max((s for s in self.wall_shifts if s[0] <= on), default=(on, 0))[1]
        return datetime.combine(on, time()) + timedelta(minutes=minute - shift)

    def is_without_delivery(self, on: date) -> bool:
        """Whether no parcel comes on that day."""
        day = self.day_by_date.get(on)
        return day is not None and not day.has_deliveries
