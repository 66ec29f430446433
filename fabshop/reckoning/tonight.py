"""What the home page opens with: send tonight, what comes, start by, what to start."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from enum import StrEnum

from fabshop import words
from fabshop.reckoning.arrivals import (
    Arrival,
    arrivals,
    last_sure_day,
    likely_day,
)
from fabshop.reckoning.facts import Facts, OrderFact
from fabshop.reckoning.readiness.due import latest_starts
from fabshop.reckoning.readiness.start import Startable, start_now
from fabshop.reckoning.readiness.waits import waits_for
from fabshop.reckoning.readiness.wants import wants
from fabshop.units import show_day, show_minutes, show_moment

# Sent tonight or, at the very last, tomorrow: that is worth the first line.
_TONIGHT = timedelta(days=1)
_STARTABLE_SHOWN = 3


class Head(StrEnum):
    """What a head line is about, in the order in which equally pressing ones stand."""

    SEND_TONIGHT = "send-tonight"
    START_BY = "start-by"
    OPEN_BOX = "open-box"
    OVERDUE = "overdue"
    ARRIVING = "arriving"
    SEND = "send"


@dataclass(frozen=True)
class Send:
    """An order whose next move is the owner's, and the days worked back for it.

    `task` needs it first, at `needed_at`. Sent on `last_sure_on` it is here in time
    even with the late lead, on `likely_on` with the likely one; None where no task
    needs it, or no lead or no pack-out is known.
    """

    order: str
    title: str
    task: str
    needed_at: datetime | None
    last_sure_on: date | None
    likely_on: date | None
    is_tonight: bool
    sentence: str


@dataclass(frozen=True)
class TeardownStand:
    """How an accepted teardown stands now; reckoned and passed in by who keeps plans.

    `in_hand_minutes` below nothing: it should have begun already. `in_plan`: it stands
    so in the plan of the whole shop, and these minutes are how long it can wait there.
    """

    build: str
    name: str
    start_by: datetime
    in_hand_minutes: int
    has_begun: bool = False
    in_plan: bool = False

    @property
    def sentence(self) -> str:
        """By when to begin, and how long that can wait."""
        left = show_minutes(abs(self.in_hand_minutes))
        if self.in_hand_minutes < 0:
            spare = f"{left} too late"
        else:
            spare = f"it can wait {left}" if self.in_plan else f"{left} in hand"
        by = show_moment(self.start_by)
        return f"{self.name}: start the teardown by {by}, {spare}"


@dataclass(frozen=True)
class HeadLine:
    """One sentence of the head; `order` and `build` say where a tap leads.

    A line `is_pressing` where it asks for something today or by tomorrow.
    """

    head: Head
    sentence: str
    is_pressing: bool
    on: date | None = None
    order: str = ""
    build: str = ""


@dataclass(frozen=True)
class Tonight:
    """The head lines, weightiest first, and what can be started now."""

    heads: tuple[HeadLine, ...]
    sends: tuple[Send, ...]
    start: tuple[Startable, ...]


@dataclass(frozen=True)
class ByPlan:
    """What the plan of the whole shop says of lines and orders not here yet.

    `needed`: by line when it needs it and for which task; `without` the orders that it
    goes without.
    """

    needed: Mapping[str, tuple[datetime, str]] = field(default_factory=dict)
    without: frozenset[str] = frozenset()


NO_PLAN = ByPlan()


def tonight(
    facts: Facts,
    *,
    planned: Mapping[str, datetime] | None = None,
    by_plan: ByPlan = NO_PLAN,
    teardowns: tuple[TeardownStand, ...] = (),
    minutes_available: int | None = None,
    who: str | None = None,
) -> Tonight:
    """What matters most now, in one screen.

    Days to send are worked back from when the work needs the parts: from the start
    of a step in an accepted plan (`planned`, by task) or else from the last moment
    the chain up to pack-out leaves. What must be sent tonight stands above all work
    at the bench; then a teardown to begin by tomorrow, boxes to open, what is
    overdue, what comes today, and what is to be sent later.
    """
    sends = to_send(facts, planned=planned, by_plan=by_plan)
    heads = [
        *(_send_head(send) for send in sends),
        *_teardown_heads(facts, teardowns),
        *_parcel_heads(facts),
    ]
    order = list(Head)
    heads.sort(
        key=lambda line: (
            not line.is_pressing,
            order.index(line.head),
            line.on or date.max,
        )
    )
    start = start_now(facts, minutes_available=minutes_available, who=who)
    return Tonight(tuple(heads), sends, start[:_STARTABLE_SHOWN])


def to_send(
    facts: Facts,
    *,
    planned: Mapping[str, datetime] | None = None,
    by_plan: ByPlan = NO_PLAN,
) -> tuple[Send, ...]:
    """The orders whose move is the owner's, those with the first last sure day first.

    Only what was not sent yet has such days; an order that came back to the owner
    after sending stands there without. What `by_plan` needs is dated by that alone;
    what it goes without need not be sent tonight, and says so.
    """
    needed = _needed(facts, planned)
    # What the plan goes without is dated as if the task could still be had its way.
    apart = _needed(facts, None) if by_plan.without else {}
    mine = [
        order
        for order in facts.orders
        if order.move is words.Move.ME
        and not order.given_up
        and any(line.owed_milli and not line.in_the_box for line in order.lines)
    ]
    sends = [
        _send(facts, one, apart if one.id in by_plan.without else needed, by_plan)
        for one in mine
    ]
    return tuple(
        sorted(
            sends,
            key=lambda send: (
                send.last_sure_on or date.max,
                send.likely_on or date.max,
                send.order,
            ),
        )
    )


def _needed(
    facts: Facts, planned: Mapping[str, datetime] | None
) -> dict[str, tuple[datetime | None, str]]:
    """For each line the first moment at which a task needs it, and which task."""
    starts = latest_starts(facts, waits_for(facts), planned=planned)
    needed: dict[str, tuple[datetime | None, str]] = {}
    for task, lacking in wants(facts).items():
        for want in lacking:
            mine = (starts.get(task), task)
            known = needed.setdefault(want.line, mine)
            if (mine[0] or datetime.max, task) < (known[0] or datetime.max, known[1]):
                needed[want.line] = mine
    return needed


def _send(
    facts: Facts,
    order: OrderFact,
    needed: Mapping[str, tuple[datetime | None, str]],
    by_plan: ByPlan,
) -> Send:
    is_without = order.id in by_plan.without
    lines = [line.id for line in order.lines]
    moments: list[tuple[datetime | None, str]] = [
        by_plan.needed[line] for line in lines if line in by_plan.needed
    ] or [needed[line] for line in lines if line in needed]
    needed_at, task = min(
        moments, key=lambda m: (m[0] or datetime.max, m[1]), default=(None, "")
    )
    sure_on = likely_on = None
    if needed_at is not None and order.sent_on is None:
        sure_on = last_sure_day(order, needed_at, facts)
        likely_on = likely_day(order, needed_at, facts)
    last_on = sure_on or likely_on
    today = facts.now.date()
    return Send(
        order=order.id,
        title=order.title,
        task=task,
        needed_at=needed_at,
        last_sure_on=sure_on,
        likely_on=likely_on,
        is_tonight=not is_without
        and last_on is not None
        and last_on <= today + _TONIGHT,
        sentence=_send_sentence(order, task, sure_on, likely_on, today)
        + ("; the plan goes without it" if is_without else ""),
    )


def _send_sentence(
    order: OrderFact,
    task: str,
    sure_on: date | None,
    likely_on: date | None,
    today: date,
) -> str:
    what = f"{order.id} {order.title}"
    if order.sent_on is not None:
        return f"{what}: your move"
    if not task:
        return f"{what}: not sent, and no open task needs it"
    if likely_on is not None and likely_on < today:
        return (
            f"{what}: too late for {task} even with the likely lead, "
            f"since {show_day(likely_on + timedelta(days=1))}"
        )
    if sure_on is not None and sure_on < today:
        was = f"{what}: last sure day was {show_day(sure_on)}"
        return (
            f"{was}, likely in time until {show_day(likely_on)}" if likely_on else was
        )
    if sure_on is None and likely_on is None:
        return f"{what}: not sent; no day to send it by is known"
    days = [
        f"last sure day {show_day(sure_on)}" if sure_on else "",
        f"likely {show_day(likely_on)}" if likely_on else "",
    ]
    return f"{what}: {', '.join(day for day in days if day)}, for {task}"


def _send_head(send: Send) -> HeadLine:
    head = Head.SEND_TONIGHT if send.is_tonight else Head.SEND
    begins = "Send tonight: " if send.is_tonight else "To send: "
    return HeadLine(
        head,
        begins + send.sentence,
        is_pressing=send.is_tonight,
        on=send.last_sure_on or send.likely_on,
        order=send.order,
    )


def _teardown_heads(
    facts: Facts, teardowns: tuple[TeardownStand, ...]
) -> list[HeadLine]:
    heads = []
    for stand in teardowns:
        if stand.has_begun:
            continue
        soon = stand.start_by.date() <= facts.now.date() + _TONIGHT
        heads.append(
            HeadLine(
                Head.START_BY,
                stand.sentence,
                is_pressing=soon,
                on=stand.start_by.date(),
                build=stand.build,
            )
        )
    return heads


def _parcel_heads(facts: Facts) -> list[HeadLine]:
    by_order: dict[tuple[Head, str], Arrival] = {}
    for arrival in arrivals(facts).values():
        if head := _about_today(facts, arrival):
            by_order.setdefault((head, arrival.order), arrival)
    heads = []
    for (head, name), arrival in by_order.items():
        order = facts.order_by_id[name]
        says = {
            Head.OPEN_BOX: "Open it: {} is here, still in the box",
            Head.OVERDUE: "Overdue: {}, " + arrival.basis,
            Head.ARRIVING: "Comes today: {}",
        }[head]
        sentence = says.format(f"{order.id} {order.title}")
        heads.append(HeadLine(head, sentence, True, on=facts.now.date(), order=name))
    return heads


def _about_today(facts: Facts, arrival: Arrival) -> Head | None:
    if facts.line_by_id[arrival.line].in_the_box:
        return Head.OPEN_BOX
    if arrival.overdue:
        return Head.OVERDUE
    comes = arrival.likely_at is not None and not arrival.unsent
    if comes and arrival.likely_at and arrival.likely_at.date() == facts.now.date():
        return Head.ARRIVING
    return None
