"""The shop's kept plan as it stands now, for everything that is told from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from fabshop.reckoning.facts import Facts
from fabshop.reckoning.planning.story import Story
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
