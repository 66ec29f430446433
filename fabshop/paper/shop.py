"""The wall sheet: today in one look, and by when each goal can still be swapped."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from fabshop.actions.schedule import plan_drift
from fabshop.clock import now
from fabshop.paper.sheet import Sheet, entries_so_far
from fabshop.reckoning.arrivals import arrivals
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.overnight import begun_today
from fabshop.reckoning.planning.band import picture
from fabshop.reckoning.planning.goals import Stand, stands
from fabshop.reckoning.planning.telling import (
    by_plan,
    chance_words,
    late_words,
    lead,
)
from fabshop.reckoning.readiness import Startable, start_now
from fabshop.reckoning.readiness.hold import binds
from fabshop.reckoning.tonight import Head, TeardownStand, tonight
from fabshop.reckoning.window import Bench
from fabshop.records.shop import Shop
from fabshop.snapshot import accepted_plans, plan_clock, take, take_whole
from fabshop.snapshot.kept_plan import (
    KeptPlan,
    by_plan_of,
    kept_plan,
    planned_moments,
    planned_stands,
)
from fabshop.snapshot.nights import nights_of
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
    teardowns = planned_stands(facts, kept, plans.stands)
    opening = tonight(
        facts,
        planned=planned,
        by_plan=by_plan_of(facts, kept),
        teardowns=teardowns,
    )
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
            "teardowns": [_teardown(stand) for stand in teardowns],
            "told": [h.sentence for h in opening.heads if h.head not in sending],
            "next": [_next(one, facts) for one in can_start[:NEXT_JOBS]],
            "tonight": [send.sentence for send in opening.sends if send.is_tonight],
            "sends": [send.sentence for send in opening.sends if not send.is_tonight],
            "runs": _runs(facts, kept, moment),
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
    return f"{stand.sentence}."


def _next(one: Startable, facts: Facts) -> Next:
    task = facts.task_by_id[one.task]
    return Next(task.id, task.title, one.sentence)


def _runs(facts: Facts, kept: KeptPlan | None, moment: datetime) -> list[str]:
    """The run of each free machine to begin today; failing that, the next one."""
    nights = nights_of(facts, kept, moment)
    today = begun_today(nights, facts.now.date())
    if today:
        return [f"{run.machine}: {run.sentence}" for run in today]
    runs = [run for night in nights for run in night.runs[:1]]
    soonest = sorted(runs, key=lambda run: (run.begins_at, run.task))[:1]
    return [f"None today. Next, {run.machine}: {run.sentence}" for run in soonest]


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
        chance = chance_words(kept.plan.sure)
        said.append(f"{chance} {late_words(kept.late)}".strip())
    drift = plan_drift(kept, facts)
    return [*said, drift.sentence] if drift.sentence else said


def _last(stand: Stand) -> str:
    """The last hour to switch; nobody knows it without a pack-out."""
    if stand.last_at is not None:
        return show_moment(stand.last_at)
    return "no longer" if all(s.is_too_late for s in stand.switches) else "no day known"
