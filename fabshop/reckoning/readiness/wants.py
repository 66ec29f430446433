"""Which order lines a task still lacks, once those that share one had theirs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fabshop import words
from fabshop.reckoning.arrivals import Arrival, arrivals
from fabshop.reckoning.facts import Facts, LineFact, NeedFact, OrderFact, TaskFact
from fabshop.units import show_day, show_quantity


@dataclass(frozen=True)
class Want:
    """A task waits for one line; `line` is the one that will fill the need.

    `arrival` is None where nothing more is coming on it.
    """

    task: str
    line: str
    lacking_milli: int
    arrival: Arrival | None
    sentence: str


def unfinished(facts: Facts) -> list[TaskFact]:
    """The tasks that can still be done, in order of code."""
    return sorted((t for t in facts.tasks if not t.is_finished), key=lambda t: t.id)


def wants(facts: Facts) -> dict[str, tuple[Want, ...]]:
    """What each unfinished task still lacks of what is ordered for it, by task.

    A need with a quantity draws on the good pieces of its line, and on those of the
    lines that make good what was written off there; tasks that share a line draw in
    order of code, those under way first. A need without a quantity asks for the
    whole line: what was ordered, less what was refunded or given up, and what was
    ordered again as well; it uses nothing up. Pieces still in the box, wrong or
    short fill no need. A line of which nothing is left to come, and nothing came,
    fills none either: giving up an order never frees a task.
    """
    return _Supply(facts).wants()


class _Supply:
    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.arrivals = arrivals(facts)
        self.free = {
            line.id: max(0, line.accepted_milli - line.taken_milli)
            for line in facts.line_by_id.values()
        }

    def wants(self) -> dict[str, tuple[Want, ...]]:
        found: dict[str, tuple[Want, ...]] = {}
        by_turn = sorted(
            unfinished(self.facts),
            key=lambda t: (t.state is not words.TaskState.UNDER_WAY, t.id),
        )
        for task in by_turn:
            lacking = {
                want.line: want
                for need in task.needs
                if need.kind is words.NeedKind.ORDER
                for want in self._lacking(task, need)
            }
            if lacking:
                found[task.id] = tuple(lacking[line] for line in sorted(lacking))
        return found

    def _lacking(self, task: TaskFact, need: NeedFact) -> Iterator[Want]:
        line = self.facts.line_by_id.get(need.name)
        if line is None:
            return
        if need.quantity_milli is None:
            yield from self._whole(task, line)
        else:
            yield from self._part(task, line, need.quantity_milli)

    def _whole(self, task: TaskFact, line: LineFact) -> Iterator[Want]:
        wanted = max(0, line.quantity_milli - line.written_off_milli)
        if line.accepted_milli < wanted:
            yield self._want(task, line, wanted - line.accepted_milli)
        for name, milli in line.reordered:
            other = self.facts.line_by_id.get(name)
            if other is not None and other.accepted_milli < milli:
                yield self._want(task, other, milli - other.accepted_milli)
        if not wanted and not line.accepted_milli and not line.reordered:
            yield self._want(task, line, line.quantity_milli)

    def _part(self, task: TaskFact, line: LineFact, milli: int) -> Iterator[Want]:
        lines = [line]
        for name, _ in line.reordered:
            if other := self.facts.line_by_id.get(name):
                lines.append(other)
        for source in lines:
            taken = min(milli, self.free[source.id])
            self.free[source.id] -= taken
            milli -= taken
        if milli:
            coming = [source for source in lines if source.id in self.arrivals]
            for source in coming or lines[:1]:
                yield self._want(task, source, milli)

    def _want(self, task: TaskFact, line: LineFact, milli: int) -> Want:
        order = self.facts.order_by_id[line.order]
        arrival = self.arrivals.get(line.id)
        return Want(task.id, line.id, milli, arrival, _sentence(order, line, arrival))


def _sentence(order: OrderFact, line: LineFact, arrival: Arrival | None) -> str:
    what = f"{order.id} {line.title}"
    if order.given_up:
        return f"{what}: the order was given up"
    if arrival is None:
        return f"{what}: nothing more is coming"
    if line.in_the_box:
        return f"{what}: here, still in the box"
    came = ""
    if line.accepted_milli or line.wrong_milli:
        of = show_quantity(line.quantity_milli, line.unit)
        came = f"{show_quantity(line.accepted_milli, line.unit)} of {of} came"
        if line.wrong_milli:
            came += f", {show_quantity(line.wrong_milli, line.unit)} wrong"
        came += "; "
    return f"{what}: {came}{order.move.label}, {_day(arrival)}"


def _day(arrival: Arrival) -> str:
    if arrival.likely_at is None:
        return arrival.basis
    day = show_day(arrival.likely_at)
    if arrival.unsent:
        return f"not sent; sent today it comes {day}"
    if arrival.overdue:
        return arrival.basis
    said = day if arrival.eta_on else f"{day} ({arrival.basis})"
    if arrival.days_late > 0 and arrival.first_on:
        days = f"{arrival.days_late} day{'s' * (arrival.days_late > 1)}"
        said += f", first promised {show_day(arrival.first_on)}, {days} late"
    return said
