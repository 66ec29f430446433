"""Accepts a proposed plan: it becomes the next edition, with its steps to tick."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import transaction

from fabshop import words
from fabshop.actions.log import write_entry
from fabshop.actions.shop import require
from fabshop.errors import Clash
from fabshop.records.build import Build, Component
from fabshop.records.plan import Plan, PlanStep
from fabshop.records.shop import Person
from fabshop.records.task import Task
from fabshop.snapshot import plan_moment


@transaction.atomic
def accept_plan(*, by: Person, plan: Plan, now: datetime) -> Plan:
    """Make the plan the build's edition A, B, C ...; the one before is superseded.

    Accepting the accepted plan again changes nothing.
    """
    require(by, "own")
    Build.objects.select_for_update().get(pk=plan.build_id)
    plan = Plan.objects.select_for_update().select_related("build").get(pk=plan.pk)
    if plan.state == words.PlanState.ACCEPTED:
        return plan
    if plan.state == words.PlanState.SUPERSEDED:
        raise Clash(
            f"Edition {plan.edition} was superseded; accept a plan asked since then."
        )
    if not plan.answer.get("sessions"):
        raise Clash(
            "Nothing of this can be done in time: there are no steps to accept."
        )
    same = Plan.objects.filter(build=plan.build, kind=plan.kind)
    same.accepted().update(state=words.PlanState.SUPERSEDED)
    plan.edition = edition_letter(same.exclude(edition="").count())
    plan.state = words.PlanState.ACCEPTED
    plan.accepted_by, plan.accepted_at = by, now
    plan.version += 1
    plan.save()
    PlanStep.objects.bulk_create(_steps(plan))
    write_entry(
        kind=words.EntryKind.ACCEPTED,
        by=by,
        now=now,
        build=plan.build,
        text=f"{plan.goal}, edition {plan.edition}",
    )
    return plan


def edition_letter(number: int) -> str:
    """A for 0, B for 1 ... Z for 25, then AA, AB ..."""
    letters = ""
    number += 1
    while number:
        number, place = divmod(number - 1, 26)
        letters = chr(ord("A") + place) + letters
    return letters


def _steps(plan: Plan) -> list[PlanStep]:
    sessions = plan.answer["sessions"]
    found = [
        (number, step)
        for number, session in enumerate(sessions, start=1)
        for step in session["steps"]
    ]
    names = {step["id"] for _, step in found}
    tasks = {task.code: task for task in Task.objects.filter(code__in=names)}
    parts = {part.code: part for part in Component.objects.filter(code__in=names)}
    return [
        _step(plan, number, session, told, tasks, parts)
        for number, (session, told) in enumerate(found, start=1)
    ]


def _step(
    plan: Plan,
    number: int,
    session: int,
    told: dict[str, Any],
    tasks: dict[str, Task],
    parts: dict[str, Component],
) -> PlanStep:
    does = words.StepDo(told["do"])
    is_task = does is words.StepDo.TASK
    if told["id"] not in (tasks if is_task else parts):
        raise Clash(f"{told['id']} is no longer in the shop; ask for the plan again.")

    def moment(name: str) -> datetime:
        return plan_moment(told[name], plan.utc_offset_minutes)

    return PlanStep(
        plan=plan,
        number=number,
        session=session,
        does=does,
        task=tasks[told["id"]] if is_task else None,
        component=None if is_task else parts[told["id"]],
        minutes=told["minutes"],
        starts_at=moment("start"),
        ends_at=moment("finish"),
        cured_at=moment("cured") if told.get("cured") else None,
    )
