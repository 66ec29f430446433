"""The wall sheet: today in one look, and by when each goal can still be swapped."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from fabshop import words
from fabshop.actions.schedule import plan_drift
from fabshop.clock import now
from fabshop.paper.sheet import Sheet, entries_so_far
from fabshop.reckoning.arrivals import arrivals
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.planning.band import picture
from fabshop.reckoning.planning.goals import Stand, stands
from fabshop.reckoning.planning.telling import (
    by_plan,
    late_words,
    lead,
    of_hundred,
)
from fabshop.reckoning.readiness import Startable, start_now
from fabshop.reckoning.readiness.hold import binds
from fabshop.reckoning.tonight import Head, TeardownStand, tonight
from fabshop.reckoning.window import Bench
from fabshop.records.shop import Shop
from fabshop.snapshot import accepted_plans, plan_clock, take, take_whole
from fabshop.snapshot.kept_plan import KeptPlan, kept_plan, planned_moments
from fabshop.units import show_day, show_minutes, show_moment

ARRIVALS_AHEAD = timedelta(days=2)
NEXT_JOBS = 3


@dataclass(frozen=True)
class Next:
    """A task that can be started, and why."""

    code: str
    title: str
    why: str


@dataclass(frozen=True)
class GoalLine:
    """One goal: what it stands at, its Plan B, and the last moment to take that."""

    stand: Stand
    build: str
    last: str


def wall_sheet() -> Sheet:
    """Hours in hand, what next, what to send, what comes, what is held open."""
    moment = now()
    facts, clock = take(moment), plan_clock(moment)
    shop = Shop.objects.first()
    plans = accepted_plans(facts)
    kept = kept_plan(facts)
    planned = planned_moments(facts, kept, plans.planned)
    opening = tonight(facts, planned=planned, teardowns=plans.stands)
    can_start = start_now(facts)
    if kept is not None:
        can_start = by_plan(can_start, kept.story)
    sending = (Head.SEND_TONIGHT, Head.SEND, Head.START_BY)
    return Sheet(
        name="wall",
        title="Wall sheet",
        template="paper/shop/wall.html",
        path="/",
        code="WHAT NOW",
        filename="wall",
        subject=shop.name if shop else "The shop",
        made_at=moment,
        offset_minutes=clock.offset_minutes,
        entries=entries_so_far(),
        context={
            "today": show_day(facts.now),
            "hours": show_minutes(_bench_minutes(facts)),
            "plan": _plan_lines(kept, facts),
            "band": picture(kept.plan.sure["band"])
            if kept and kept.plan.sure
            else None,
            "teardowns": [_teardown(stand) for stand in plans.stands],
            "told": [h.sentence for h in opening.heads if h.head not in sending],
            "next": [_next(one, facts) for one in can_start[:NEXT_JOBS]],
            "tonight": [send.sentence for send in opening.sends if send.is_tonight],
            "sends": [send.sentence for send in opening.sends if not send.is_tonight],
            "runs": _runs(can_start, facts),
            "arriving": _arriving(facts),
            "holds": [t for t in facts.tasks if binds(t)],
            "goals": _goals(take_whole(moment), kept),
        },
    )


def _bench_minutes(facts: Facts) -> int:
    ends = [build.pack_out for build in facts.builds if build.pack_out]
    bench = Bench(facts.windows, facts.now)
    return bench.minutes_until(max(ends)) if ends else bench.minutes


def _teardown(stand: TeardownStand) -> str:
    if stand.has_begun:
        return f"{stand.name}: the teardown is under way."
    spare = show_minutes(abs(stand.in_hand_minutes))
    side = "in hand" if stand.in_hand_minutes >= 0 else "too late"
    return (
        f"{stand.name}: start the teardown by {show_moment(stand.start_by)}, "
        f"{spare} {side}."
    )


def _next(one: Startable, facts: Facts) -> Next:
    task = facts.task_by_id[one.task]
    return Next(task.id, task.title, one.sentence)


def _runs(can_start: tuple[Startable, ...], facts: Facts) -> list[str]:
    """Unattended runs that can begin at the end of the next hours at the bench."""
    bench = Bench(facts.windows, facts.now)
    begins = bench.next_start(facts.now)
    span = bench.open_at(begins) if begins else None
    if span is None:
        return []
    found = []
    for one in can_start:
        task = facts.task_by_id[one.task]
        stages = [s for s in task.stages if s.kind is words.StageKind.RUN]
        minutes = sum(stage.minutes for stage in stages)
        begin_by = span.end - timedelta(minutes=one.minutes)
        if not minutes or begin_by < span.start:
            continue
        ends = span.end + timedelta(minutes=minutes)
        stopped = _may_not_run(span.end, ends, facts)
        may_not = f"; nothing may run on {stopped}" if stopped else ""
        machines = " ".join(dict.fromkeys(s.machine for s in stages if s.machine))
        found.append(
            f"{task.id} {task.title}: {show_minutes(minutes)} on {machines}, begun by "
            f"{begin_by:%H:%M} it ends {show_moment(ends)}{may_not}"
        )
    return found


def _may_not_run(start: datetime, end: datetime, facts: Facts) -> str:
    for days in range((end.date() - start.date()).days + 1):
        day = facts.day_by_date.get(start.date() + timedelta(days=days))
        if day is not None and not day.may_run_machines:
            return show_day(day.on)
    return ""


def _arriving(facts: Facts) -> list[str]:
    until = facts.now + ARRIVALS_AHEAD
    soon = sorted(
        (arrival.likely_at, line)
        for line, arrival in arrivals(facts).items()
        if arrival.likely_at and arrival.likely_at <= until and not arrival.unsent
    )
    return [
        f"{line} {facts.line_by_id[line].title}: {show_moment(at)}" for at, line in soon
    ]


def _goals(facts: Facts, kept: KeptPlan | None) -> list[GoalLine]:
    """The goals with a Plan B, that which must be decided first on top."""
    lines = [
        GoalLine(stand, build.name if build else "", _last(stand))
        for stand in stands(facts, kept.story if kept else None)
        if stand.switches
        for build in [facts.build_by_id.get(stand.worth.build)]
    ]
    return sorted(
        lines,
        key=lambda line: (
            line.stand.last_at or datetime.max,
            -line.stand.worth.points,
            line.stand.worth.task,
        ),
    )


def _plan_lines(kept: KeptPlan | None, facts: Facts) -> list[str]:
    """The plan's sentence, how sure it is, and what is behind."""
    if kept is None:
        return []
    said = [lead(kept.story, kept.shift)]
    if kept.plan.sure:
        chance = of_hundred(kept.plan.sure["plans"][0]["chance"])
        said.append(f"{chance} that it holds. {late_words(kept.late)}".strip())
    drift = plan_drift(kept, facts)
    return [*said, drift.sentence] if drift.sentence else said


def _last(stand: Stand) -> str:
    """The last hour to switch; nobody knows it without a pack-out."""
    if stand.last_at is not None:
        return show_moment(stand.last_at)
    return "no longer" if all(s.is_too_late for s in stand.switches) else "no day known"
