"""What the kept plan wants from outside: until when, and what a day's slip costs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from fabshop.reckoning.arrivals import (
    Arrival,
    arrivals,
    delivered_at,
    last_delivery,
    last_sure_day,
    likely_day,
)
from fabshop.reckoning.facts import Facts, OrderFact
from fabshop.reckoning.planning.story import Story
from fabshop.units import show_day, show_minutes

_DAY = timedelta(days=1)


@dataclass(frozen=True)
class LineNeed:
    """One line that the plan waits for.

    `needed_at`: by then it must be here, all else as planned, for `task` (or the
    opening of a teardown, by its build); `holds_until` the last delivery before.
    `lost_minutes`: what one day later than likely takes from the time in hand.
    `then` is what the plan must change to after `holds_until`. `last_sure_on`,
    `likely_on`: the last days to send it, where it is not sent.
    """

    line: str
    order: str
    title: str
    task: str
    needed_at: datetime
    holds_until: date | None
    likely_at: datetime | None
    late_at: datetime | None
    lost_minutes: int
    unsent: bool
    last_sure_on: date | None
    likely_on: date | None
    then: str

    @property
    def is_late_too_late(self) -> bool:
        """Whether its late day breaks the plan."""
        return self.late_at is None or self.late_at > self.needed_at

    @property
    def slip_words(self) -> str:
        """One day later, in words."""
        until = show_day(self.holds_until) if self.holds_until else "no day"
        if self.lost_minutes:
            lost = f"one day later takes {show_minutes(self.lost_minutes)} in hand"
        else:
            lost = "one day later takes nothing"
        return f"{lost}; the plan holds until {until}, then: {self.then}"


def line_needs(
    facts: Facts, story: Story, shift: timedelta = timedelta()
) -> tuple[LineNeed, ...]:
    """Every line that a way taken by the plan waits for, the first needed first."""
    known = arrivals(facts)
    found = []
    for line, (at, where) in story.needed.items():
        arrival = known.get(line)
        if arrival is None:
            continue
        order = facts.order_by_id[arrival.order]
        found.append(_need(facts, story, order, arrival, at, shift, where))
    return tuple(sorted(found, key=lambda one: (one.needed_at, one.line)))


def _need(
    facts: Facts,
    story: Story,
    order: OrderFact,
    arrival: Arrival,
    at: datetime,
    shift: timedelta,
    where: str,
) -> LineNeed:
    needed_at = at + shift
    until = last_delivery(facts, needed_at)
    task = _task_of(story, arrival.line, where)
    return LineNeed(
        line=arrival.line,
        order=order.id,
        title=order.title,
        task=task,
        needed_at=needed_at,
        holds_until=until.date() if until else None,
        likely_at=arrival.likely_at,
        late_at=arrival.late_at,
        lost_minutes=_lost(facts, story, arrival, at, shift),
        unsent=arrival.unsent,
        last_sure_on=last_sure_day(order, needed_at, facts) if arrival.unsent else None,
        likely_on=likely_day(order, needed_at, facts) if arrival.unsent else None,
        then=_then(facts, task),
    )


def _task_of(story: Story, line: str, where: str) -> str:
    """The task that wants it, also where the opening of its teardown waits for it."""
    if where in story.beside.get("tasks", {}):
        return where
    for row in story.rows:
        way = next(
            w
            for w in story.asked[row.id]["ways"]
            if w["id"] == story.done[row.id]["way"]
        )
        if row.task and any(link["id"] == line for link in way.get("after", ())):
            return row.task
    return where


def _lost(
    facts: Facts, story: Story, arrival: Arrival, at: datetime, shift: timedelta
) -> int:
    """Bench minutes that the end moves by, where it comes one day after its day."""
    spare = story.in_hand_minutes
    if arrival.likely_at is None or spare is None:
        return 0
    later = delivered_at(facts, arrival.likely_at.date() + _DAY)
    if later is None:
        return max(0, spare)
    bench = story.bench
    left = bench.minutes_until(at) - bench.minutes_until(later - shift)
    return max(0, spare - left)


def _then(facts: Facts, name: str) -> str:
    """What the plan changes to without it."""
    task = facts.task_by_id.get(name)
    if task is None:
        return "the teardown waits, or goes without it"
    for way in task.fallbacks:
        if not way.chosen:
            lost = task.points - way.points
            cost = f", {lost} points less" if lost > 0 else ""
            return f"{name} by Plan B, {way.title}{cost}"
    if not task.required:
        return f"{name} is given up, {task.points} points less"
    return f"{name} has no Plan B: pack-out is lost"
