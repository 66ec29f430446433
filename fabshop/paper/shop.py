"""The wall sheet: today, in one look."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from fabshop import words
from fabshop.clock import now
from fabshop.paper.sheet import Sheet, entries_so_far
from fabshop.reckoning.arrivals import arrivals
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.goal import goals
from fabshop.reckoning.readiness import readiness
from fabshop.reckoning.tonight import tonight
from fabshop.reckoning.window import Bench
from fabshop.records.plan import Plan
from fabshop.records.shop import Shop
from fabshop.snapshot import plan_clock, take
from fabshop.units import show_minutes, show_moment

ARRIVALS_AHEAD = timedelta(days=2)


def wall_sheet() -> Sheet:
    """Hours in hand, what next, what to send, what comes, what is held open."""
    moment = now()
    facts, clock = take(moment), plan_clock(moment)
    shop = Shop.objects.first()
    opening = tonight(facts)
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
            "today": show_moment(facts.now),
            "heads": [head.sentence for head in opening.heads],
            "start": [
                {
                    "task": start.task,
                    "title": facts.task_by_id[start.task].title,
                    "minutes": show_minutes(start.minutes),
                    "why": start.sentence,
                }
                for start in opening.start
            ],
            "sends": [send.sentence for send in opening.sends],
            "runs": _runs(facts),
            "arriving": _arriving(facts),
            "holds": [
                f"{task.id} {task.title}"
                for task in facts.tasks
                if task.is_hold
                and not task.is_finished
                and task.hold
                not in (words.HoldVerdict.SIGNED, words.HoldVerdict.WAIVED)
            ],
            "goals": [
                {
                    "task": goal.task,
                    "title": goal.title,
                    "points": goal.points,
                    "stands": goal.plan_b if goal.is_chosen else "final",
                    "plan_b": goal.plan_b,
                    "plan_b_points": goal.plan_b_points,
                    "last": show_moment(goal.last_switch)
                    if goal.last_switch
                    else "no longer",
                }
                for goal in goals(facts)
            ],
            "hours_left": show_minutes(_bench_minutes(facts)),
            "in_hand": _plans_in_hand(),
        },
    )


def _bench_minutes(facts: Facts) -> int:
    ends = [build.pack_out for build in facts.builds if build.pack_out]
    bench = Bench(facts.windows, facts.now)
    return bench.minutes_until(max(ends)) if ends else bench.minutes


def _runs(facts: Facts) -> list[str]:
    """Unattended runs that could be started before bed."""
    ready = readiness(facts)
    return [
        f"{task.id} {task.title}: {show_minutes(stage.minutes)} on {stage.machine}"
        for task in facts.tasks
        if task.id in ready and ready[task.id].why is words.Why.READY
        for stage in task.stages
        if stage.kind is words.StageKind.RUN
    ]


def _arriving(facts: Facts) -> list[str]:
    until = facts.now + ARRIVALS_AHEAD
    soon = sorted(
        (
            (arrival.likely_at, line)
            for line, arrival in arrivals(facts).items()
            if arrival.likely_at and arrival.likely_at <= until and not arrival.unsent
        ),
    )
    return [
        f"{line} {facts.line_by_id[line].title}: {show_moment(at)}" for at, line in soon
    ]


def _plans_in_hand() -> list[dict[str, Any]]:
    """For each accepted teardown: the latest start as it was planned."""
    return [
        {
            "build": plan.build.name,
            "edition": plan.edition,
            "start_by": show_moment(
                datetime.fromisoformat(plan.answer["sessions"][0]["latest_start"])
            ),
        }
        for plan in Plan.objects.accepted().select_related("build")
        if plan.answer.get("sessions")
    ]
