"""Everything that reckoning may know of the shop at one moment."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

from fabshop.reckoning.facts.build import BuildFact, ComponentFact
from fabshop.reckoning.facts.joint import JointFact
from fabshop.reckoning.facts.order import LineFact, OrderFact, SlipFact
from fabshop.reckoning.facts.shop import DayFact, Span
from fabshop.reckoning.facts.stock import PieceFact
from fabshop.reckoning.facts.task import FinishedTask, TaskFact


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
    pieces: tuple[PieceFact, ...] = ()
    joints: tuple[JointFact, ...] = ()
    windows: tuple[Span, ...] = ()
    past_windows: tuple[Span, ...] = ()
    helper_windows: tuple[tuple[str, Span], ...] = ()
    wall_shifts: tuple[tuple[date, int], ...] = ()
    days: tuple[DayFact, ...] = ()
    finished: tuple[FinishedTask, ...] = ()
    slips: tuple[SlipFact, ...] = ()
    delivery_minute: int = 18 * 60
    setup_minutes: int = 0
    factor_bites_after: int = 5
    entries: int = 0
    component_by_id: dict[str, ComponentFact] = field(init=False, compare=False)
    task_by_id: dict[str, TaskFact] = field(init=False, compare=False)
    order_by_id: dict[str, OrderFact] = field(init=False, compare=False)
    line_by_id: dict[str, LineFact] = field(init=False, compare=False)
    piece_by_id: dict[str, PieceFact] = field(init=False, compare=False)
    build_by_id: dict[str, BuildFact] = field(init=False, compare=False)
    day_by_date: dict[date, DayFact] = field(init=False, compare=False)

    def __post_init__(self) -> None:
        set_ = object.__setattr__
        set_(self, "component_by_id", {c.id: c for c in self.components})
        set_(self, "task_by_id", {t.id: t for t in self.tasks})
        set_(self, "order_by_id", {o.id: o for o in self.orders})
        set_(self, "piece_by_id", {p.id: p for p in self.pieces})
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
