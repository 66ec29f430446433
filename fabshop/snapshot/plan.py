"""How the accepted teardowns stand, for what is reckoned around them."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from itertools import groupby
from zoneinfo import ZoneInfo

from django.db.models import Exists, OuterRef

from fabshop import words
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.tonight import TeardownStand
from fabshop.reckoning.window import Bench
from fabshop.records.plan import Plan, PlanStep, StepTick
from fabshop.records.shop import Shop
from fabshop.snapshot.clock import plan_moment
from fabshop.units import show_moment


@dataclass(frozen=True)
class Accepted:
    """The accepted plans: by task, when its step begins; by build, how it stands.

    `minutes` are those that a task was planned with; `pages` names by build the id of
    its accepted plan.
    """

    planned: dict[str, datetime] = field(default_factory=dict)
    minutes: dict[str, int] = field(default_factory=dict)
    stands: tuple[TeardownStand, ...] = ()
    pages: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True)
class Wall:
    """Reads what is written in a plan's answer as the shop's wall clock shows it.

    The plan counts real minutes on the clock of the day it was made; behind a clock
    change the wall shows another hour.
    """

    zone: ZoneInfo
    offset_minutes: int

    def at(self, written: str) -> datetime:
        moment = plan_moment(written, self.offset_minutes)
        return moment.astimezone(self.zone).replace(tzinfo=None)

    def say(self, written: str | None) -> str:
        """Sun 19 Sep 12:02; "" where nothing is written."""
        return show_moment(self.at(written)) if written else ""


def wall_of(plan: Plan) -> Wall:
    zone = Shop.objects.values_list("zone", flat=True).first()
    return Wall(ZoneInfo(zone or "UTC"), plan.utc_offset_minutes)


def accepted_plans(facts: Facts) -> Accepted:
    """Read the accepted plans in one query; moments are on the plan's clock of now."""
    steps = list(
        PlanStep.objects.filter(plan__state=words.PlanState.ACCEPTED)
        .select_related("plan__build", "task")
        .annotate(was_ticked=Exists(StepTick.objects.filter(step=OuterRef("pk"))))
        .order_by("plan_id", "number")
    )
    offset = timedelta(minutes=facts.utc_offset_minutes)
    stands = (
        _stand(list(of_plan), facts)
        for _, of_plan in groupby(steps, key=lambda step: step.plan_id)
    )
    return Accepted(
        planned={
            step.task.code: step.starts_at.astimezone(UTC).replace(tzinfo=None) + offset
            for step in steps
            if step.task
        },
        minutes={step.task.code: step.minutes for step in steps if step.task},
        stands=tuple(stands),
        pages={step.plan.build.slug: step.plan_id for step in steps},
    )


def _stand(steps: list[PlanStep], facts: Facts) -> TeardownStand:
    plan = steps[0].plan
    first = plan.answer["sessions"][0]
    # The plan's own clock may differ from today's by a clock change.
    shift = timedelta(minutes=facts.utc_offset_minutes - plan.utc_offset_minutes)
    start_by = datetime.fromisoformat(first["latest_start"]) + shift
    begins = datetime.fromisoformat(first["start"]) + shift
    windows = (*facts.past_windows, *facts.windows)
    bench = Bench(windows, min(start_by, facts.now))
    in_hand = bench.minutes_until(start_by) - bench.minutes_until(
        max(begins, facts.now)
    )
    return TeardownStand(
        build=plan.build.slug,
        name=plan.build.name,
        start_by=start_by,
        in_hand_minutes=in_hand,
        has_begun=any(getattr(step, "was_ticked", False) for step in steps),
    )
