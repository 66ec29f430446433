"""The shop's kept plan as it stands now, for everything that is told from it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from fabshop.reckoning.facts import Facts
from fabshop.reckoning.planning.needs import line_needs
from fabshop.reckoning.planning.story import Story
from fabshop.reckoning.tonight import NO_PLAN, ByPlan, TeardownStand
from fabshop.reckoning.window import Bench
from fabshop.records.schedule import ShopPlan


@dataclass(frozen=True)
class KeptPlan:
    """The current plan, told on likely and on late days.

    `shift` is how far today's plan clock is ahead of the plan's own, over a clock
    change.
    """

    plan: ShopPlan
    story: Story
    late: Story | None
    shift: timedelta

    def now_at(self, moment: datetime) -> datetime:
        """A moment of the plan on the plan's clock of today."""
        return moment + self.shift


def kept_plan(facts: Facts) -> KeptPlan | None:
    """The current plan, in one query; None where none was asked for yet."""
    plan = ShopPlan.objects.kept().first()
    if plan is None:
        return None
    return told(plan, facts.utc_offset_minutes)


def told(plan: ShopPlan, utc_offset_minutes: int) -> KeptPlan:
    late = None
    if plan.late_answer and plan.late_question:
        late = Story(plan.late_question, plan.late_answer, plan.beside["late"])
    return KeptPlan(
        plan=plan,
        story=Story(plan.question, plan.answer, plan.beside),
        late=late,
        shift=timedelta(minutes=utc_offset_minutes - plan.utc_offset_minutes),
    )


def planned_moments(
    facts: Facts, kept: KeptPlan | None, accepted: Mapping[str, datetime]
) -> dict[str, datetime]:
    """By task, by when the plan needs it begun, with the parts that it wants here.

    From the kept plan where there is one, and else from accepted teardowns.
    """
    if kept is None:
        return dict(accepted)
    found = {
        task: kept.now_at(at)
        for task, at in kept.story.latest_starts.items()
        if task in facts.task_by_id
    }
    wanted: dict[str, list[str]] = {}
    for task in facts.tasks:
        for need in task.needs:
            wanted.setdefault(need.name, []).append(task.id)
    for line, (at, _) in kept.story.needed.items():
        for name in wanted.get(line, ()):
            if name in found:
                found[name] = min(found[name], kept.now_at(at))
    return found


def planned_stands(
    facts: Facts, kept: KeptPlan | None, accepted: Iterable[TeardownStand]
) -> tuple[TeardownStand, ...]:
    """How each teardown stands: by the kept plan where that has it, else as accepted.

    One that has begun stands as it does; the plan does not move what is under way.
    """
    found = {stand.build: stand for stand in accepted}
    if kept is None:
        return tuple(found.values())
    bench = Bench((*facts.past_windows, *facts.windows), facts.now)
    for session in kept.story.beside.get("sessions", ()):
        slug = session["build"]
        build = facts.build_by_id.get(slug)
        first = next((r for r in kept.story.rows if r.session == slug), None)
        if build is None or first is None:
            continue
        if slug in found and found[slug].has_begun:
            continue
        start_by = kept.now_at(kept.story.latest_start_of(first))
        begins = max(kept.now_at(first.start), facts.now)
        found[slug] = TeardownStand(
            build=slug,
            name=build.name,
            start_by=start_by,
            in_hand_minutes=bench.minutes_until(start_by) - bench.minutes_until(begins),
            in_plan=True,
        )
    return tuple(found[slug] for slug in sorted(found))


def by_plan_of(facts: Facts, kept: KeptPlan | None) -> ByPlan:
    """When the plan needs each line that it waits for, and what it goes without.

    It goes without an order that some open task wants and that no way it takes does.
    """
    if kept is None:
        return NO_PLAN
    wanted = {
        facts.line_by_id[need.name].order
        for task in facts.tasks
        if not task.is_finished
        for need in task.needs
        if need.name in facts.line_by_id
    }
    needs = line_needs(facts, kept.story, kept.shift)
    return ByPlan(
        needed={one.line: (one.needed_at, one.task) for one in needs},
        without=frozenset(wanted - {one.order for one in needs}),
    )
