"""How every unfinished task stands: its stamp, its reasons and when it comes free."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from fabshop import words
from fabshop.reckoning.facts import Facts, TaskFact
from fabshop.reckoning.readiness.reasons import Outlook, Reason


@dataclass(frozen=True)
class TaskReady:
    """A task's stamp `why` (its first reason's), and all its reasons.

    `free_at` (`free_late` with every parcel on its late day) is the first moment at
    which nothing is in its way but its own removals and the hours of the day: its
    parts here, what it comes after done and cured, its holds signed, each chain
    reckoned as if the bench did nothing else. So it is never too late a moment, and
    may be too early where much else is to be done. None with reasons is: unknown.
    `since`: for a task that wants parts the day on which the first of them was
    promised first, or where it never was, on which its order was made.
    """

    task: str
    why: words.Why
    reasons: tuple[Reason, ...] = ()
    free_at: datetime | None = None
    free_late: datetime | None = None
    since: date | None = None


def readiness(facts: Facts) -> dict[str, TaskReady]:
    """Why each unfinished task of the live builds can or cannot be done now.

    A task under way is stamped so, and keeps the reasons that would hold it up.
    Finished ones are left out.
    """
    outlook = Outlook(facts)
    return {task.id: _ready(outlook, task) for task in outlook.tasks}


def stamp(task: TaskFact, reasons: tuple[Reason, ...]) -> words.Why:
    """The one word for a task: how it ended, that it runs, or what is in its way."""
    if task.state is words.TaskState.GIVEN_UP:
        return words.Why.GIVEN_UP
    if task.is_finished:
        return words.Why.DONE
    if task.state is words.TaskState.UNDER_WAY:
        return words.Why.UNDER_WAY
    return reasons[0].why if reasons else words.Why.READY


def blocked_by_undelivered(facts: Facts) -> tuple[TaskReady, ...]:
    """The tasks that want parts, those first that come free last or nobody knows."""
    blocked = [
        ready
        for ready in readiness(facts).values()
        if any(reason.why is words.Why.WANTS_PARTS for reason in ready.reasons)
    ]
    return tuple(
        sorted(blocked, key=lambda r: (r.free_at or datetime.max, r.task), reverse=True)
    )


def _ready(outlook: Outlook, task: TaskFact) -> TaskReady:
    reasons = outlook.reasons(task)
    return TaskReady(
        task=task.id,
        why=stamp(task, reasons),
        reasons=reasons,
        free_at=outlook.likely.free_at.get(task.id),
        free_late=outlook.late.free_at.get(task.id),
        since=_since(outlook, task),
    )


def _since(outlook: Outlook, task: TaskFact) -> date | None:
    days = []
    for want in outlook.wants.get(task.id, ()):
        line = outlook.facts.line_by_id[want.line]
        order = outlook.facts.order_by_id[line.order]
        first_on = want.arrival.first_on if want.arrival else None
        if day := first_on or order.sent_on or order.made_on:
            days.append(day)
    return min(days, default=None)
