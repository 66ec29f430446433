"""What can truly be started now, the most urgent first, then what pays best."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from fabshop import words
from fabshop.reckoning.facts import Facts, TaskFact
from fabshop.reckoning.hours import factors_of, minutes_left
from fabshop.reckoning.readiness.due import latest_starts
from fabshop.reckoning.readiness.hold import ancestors
from fabshop.reckoning.readiness.reasons import Outlook
from fabshop.reckoning.window import Bench
from fabshop.units import show_minutes, show_moment

_NO_LIMIT = date.max


@dataclass(frozen=True)
class Startable:
    """A task with nothing in its way; `starts_at` is now, or when hours next begin.

    `start_by` is the last moment for it where something that must be done hangs on
    it, `points_per_hour` the best that it leads to, over all that is left of the
    chain.
    """

    task: str
    minutes: int
    sentence: str
    starts_at: datetime
    start_by: datetime | None
    points_per_hour: float


def start_now(
    facts: Facts, *, minutes_available: int | None = None, who: str | None = None
) -> tuple[Startable, ...]:
    """The tasks that can be started now, best first; shorter than the time given.

    Nothing is in their way: parts, other tasks, holds and cures are settled and
    nothing must come off first. Out of hours the same tasks are given with the
    moment at which hours next begin. Best is: the earliest day by which it must be
    begun for the sake of a task that must be done, then the most points per hour of
    the whole unfinished chain. `who` is a helper's name for the helper's own hours.
    """
    outlook = Outlook(facts)
    factors = factors_of(facts)
    spans = facts.windows
    if who is not None:
        spans = tuple(span for name, span in facts.helper_windows if name == who)
    bench = Bench(spans or facts.windows, facts.now)
    musts = _latest_for_musts(outlook)
    pays = _points_per_hour(outlook)
    found = []
    for task in outlook.tasks:
        minutes = minutes_left(task, factors)
        if minutes_available is not None and minutes > minutes_available:
            continue
        if task.state is words.TaskState.UNDER_WAY or _is_in_the_way(outlook, task):
            continue
        starts_at = _starts_at(task, facts, bench)
        found.append(
            Startable(
                task=task.id,
                minutes=minutes,
                sentence=_sentence(task, minutes, starts_at, facts, bench),
                starts_at=starts_at,
                start_by=musts.get(task.id),
                points_per_hour=pays.get(task.id, 0.0),
            )
        )
    return tuple(sorted(found, key=_best_first))


def _is_in_the_way(outlook: Outlook, task: TaskFact) -> bool:
    return any(
        reason.why is not words.Why.OUT_OF_HOURS for reason in outlook.reasons(task)
    )


def _best_first(one: Startable) -> tuple[date, float, int, str]:
    day = one.start_by.date() if one.start_by else _NO_LIMIT
    return day, -one.points_per_hour, one.minutes, one.task


def _latest_for_musts(outlook: Outlook) -> dict[str, datetime | None]:
    """The last starts of the tasks that must be done and of all that lead to them."""
    facts = outlook.facts
    needed: set[str] = set()
    for task in outlook.tasks:
        if task.required:
            needed |= {task.id, *ancestors(task.id, facts)}
    waits = {
        name: tuple(b for b in before if b in needed)
        for name, before in outlook.waits.items()
        if name in needed
    }
    return latest_starts(facts, waits)


def _points_per_hour(outlook: Outlook) -> dict[str, float]:
    facts = outlook.facts
    factors = factors_of(facts)
    open_tasks = {task.id for task in outlook.tasks}
    best: dict[str, float] = {}
    for goal in outlook.tasks:
        if goal.points <= 0:
            continue
        chain = {goal.id, *ancestors(goal.id, facts)} & open_tasks
        work = sum(minutes_left(facts.task_by_id[name], factors) for name in chain)
        rate = 60 * goal.points / work if work else float(goal.points)
        for name in chain:
            best[name] = max(best.get(name, 0.0), rate)
    return best


def _starts_at(task: TaskFact, facts: Facts, bench: Bench) -> datetime:
    starts_at = bench.next_start(facts.now) or facts.now
    day = facts.day_by_date.get(starts_at.date())
    if task.noisy and day and day.quiet_until and starts_at < day.quiet_until:
        starts_at = bench.next_start(day.quiet_until) or starts_at
    return starts_at


def _sentence(
    task: TaskFact, minutes: int, starts_at: datetime, facts: Facts, bench: Bench
) -> str:
    ordered = any(need.kind is words.NeedKind.ORDER for need in task.needs)
    parts = "parts here, " if ordered else ""
    site = (*task.reach, *task.remove, *task.fits, *task.opens)
    access = "its place is open, " if site else "no teardown, "
    sentence = f"{parts}{access}{show_minutes(minutes)}"
    span = bench.open_at(starts_at)
    if starts_at > facts.now:
        is_today = starts_at.date() == facts.now.date()
        begins = f"{starts_at:%H:%M}" if is_today else show_moment(starts_at)
        sentence += f", from {begins}"
    if span and starts_at + timedelta(minutes=minutes) > span.end:
        sentence += f"; hours end {span.end:%H:%M} before it is done"
    return sentence
