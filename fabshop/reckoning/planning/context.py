"""What the shop's plan works with, read out of the facts once."""

from __future__ import annotations

from datetime import datetime, timedelta

from fabshop import words
from fabshop.reckoning.arrivals import Arrival
from fabshop.reckoning.facts import Besides, Facts, TaskFact
from fabshop.reckoning.hours import factors_of
from fabshop.reckoning.planning.calendar import merged, nothing_running
from fabshop.reckoning.planning.chain import chain_of, followers_of
from fabshop.reckoning.planning.way import variants
from fabshop.reckoning.readiness.due import pack_out_of
from fabshop.reckoning.readiness.hold import curing_over
from fabshop.reckoning.readiness.rack import lacking_pieces
from fabshop.reckoning.readiness.waits import waits_for
from fabshop.reckoning.readiness.wants import unfinished, wants

_MINUTE = timedelta(minutes=1)
_WITHOUT_PACK_OUT = timedelta(days=120)


def whole_minute(moment: datetime) -> datetime:
    """The moment itself, or the next whole minute."""
    floor = moment.replace(second=0, microsecond=0)
    return floor if floor == moment else floor + _MINUTE


def written(moment: datetime) -> str:
    return moment.isoformat(timespec="minutes")


class Context:
    """Unfinished tasks with their ways, what they wait for, and the calendar."""

    def __init__(self, facts: Facts, besides: Besides, *, late: bool = False) -> None:
        self.facts, self.besides, self.late = facts, besides, late
        self.origin = whole_minute(facts.now)
        self.tasks = {task.id: task for task in unfinished(facts)}
        self.wants = wants(facts)
        self.waits = waits_for(facts)
        self.lacking = lacking_pieces(facts)
        self.factors = factors_of(facts)
        self.followers = followers_of(facts)
        ends = [build.pack_out for build in facts.builds if build.pack_out]
        self.deadline = max(ends, default=None)
        self.horizon = max(
            self.deadline or self.origin + _WITHOUT_PACK_OUT, self.origin
        )
        self.bench = merged(facts.windows, self.origin, self.horizon)
        everybody = (*besides.attended, *self.bench)
        self.attended = merged(everybody, self.origin, self.horizon)
        self.nothing = nothing_running(facts, self.attended, self.horizon)
        self.variants = {
            task.id: variants(task, self.factors, self._takes(task))
            for task in self.tasks.values()
        }
        self.running = {one.task: one for one in besides.running}
        self.chains = {
            task.id: chain_of(task, facts, self.followers)
            for task in self.tasks.values()
            if any(not way.chosen for way in task.fallbacks)
        }

    def never(self, task: TaskFact) -> str:
        """Why its final way cannot be planned at all; "" where it can."""
        for want in self.wants.get(task.id, ()):
            if self.comes(want.arrival) is None:
                return f"needs {want.sentence}"
        for lack in self.lacking.get(task.id, ()):
            return f"needs {getattr(lack, 'sentence', lack)}"
        return ""

    def comes(self, arrival: Arrival | None) -> datetime | None:
        if arrival is None:
            return None
        return arrival.late_at if self.late else arrival.likely_at

    def ready(self, task: TaskFact) -> datetime | None:
        """When cures begun before are over, and what runs on its machine is."""
        others = [
            other
            for name in task.after
            if (other := self.facts.task_by_id.get(name)) and other.is_finished
        ]
        others += curing_over(task, self.facts)
        mine = {stage.machine for stage in task.stages if stage.machine}
        busy_until = [
            whole_minute(one.due_at)
            for one in self.running.values()
            if one.task == task.id or one.machine in mine
        ]
        for other in self.facts.tasks:
            busy = {stage.machine for stage in other.stages if stage.machine}
            if other.is_finished and mine & busy:
                others.append(other)
        ahead = [at for at in busy_until if at > self.origin]
        ahead += [
            whole_minute(other.cured_at)
            for other in others
            if other.cured_at and other.cured_at > self.origin
        ]
        return max(ahead, default=None)

    def befores(self, task: TaskFact) -> tuple[list[str], list[str]]:
        """The tasks it comes after in every way, and those only its final one does."""
        chain = set(self.chains.get(task.id, ()))
        names = [name for name in self.waits[task.id] if name in self.tasks]
        return (
            [name for name in names if name not in chain],
            [name for name in names if name in chain],
        )

    def pack_out(self, task: TaskFact) -> datetime:
        return pack_out_of(task, self.facts) or self.horizon

    def _takes(self, task: TaskFact) -> dict[str, int]:
        """Of the consumables, what it says it needs, in thousandths."""
        known = {store.id for store in self.besides.stores if not store.is_spare}
        return {
            need.name: need.quantity_milli
            for need in task.needs
            if need.kind is words.NeedKind.RACK
            and need.name in known
            and need.quantity_milli
        }
