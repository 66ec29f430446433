"""Ticks the steps of an accepted plan off; the machine's state follows the tick."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from fabshop import words
from fabshop.actions import wall
from fabshop.actions.build import put_on, take_off
from fabshop.actions.log import finish_work, once, write_entry
from fabshop.actions.log.entry import new_client_id
from fabshop.actions.moved import Before, move
from fabshop.actions.shop import require
from fabshop.actions.task import reopen_task
from fabshop.errors import BadInput, Clash, NeedsAnswer, ShopError
from fabshop.records.build import Component
from fabshop.records.log import LogEntry
from fabshop.records.plan import Plan, PlanStep, StepTick
from fabshop.records.shop import Person
from fabshop.records.task import Site

_FINISHED = (words.TaskState.DONE, words.TaskState.ACCEPTED)


def is_ticked(step: PlanStep) -> bool:
    """Whether the last thing said of the step is that it is done."""
    ticks = list(step.ticks.all())
    return bool(ticks) and ticks[-1].is_done


def is_done(step: PlanStep) -> bool:
    """Whether the step is ticked, or what it asks for was done without a tick.

    What has been said of the step itself counts for more than how things stand.
    """
    ticks = list(step.ticks.all())
    if ticks:
        return ticks[-1].is_done
    if step.task is not None:
        return step.task.state in _FINISHED
    assert step.component is not None
    return step.does == words.StepDo.REMOVE and not step.component.is_on


def _tick_first(entry: LogEntry) -> StepTick:
    return StepTick.objects.select_related("step").get(client_id=entry.client_id)


def _ticks_first(entry: LogEntry) -> list[StepTick]:
    codes = entry.before.get("ticks", [])
    return list(StepTick.objects.filter(client_id__in=codes).order_by("step__number"))


@once(words.EntryKind.STEP, first=_tick_first)
def tick_step(
    *,
    by: Person,
    step: PlanStep,
    now: datetime,
    done: bool = True,
    at: datetime | None = None,
    client_id: str | None = None,
    ended_at: datetime | None = None,
    confirm: bool = False,
) -> StepTick:
    """Tick a step off, or take the tick back; the part or task is moved with it.

    A step that is so already is harmless: its tick is the answer. A step of a
    superseded edition is ticked in the accepted one, where it stands there too. A
    timer that looks forgotten asks first; `ended_at` or `confirm` answer it.
    """
    require(by, "write")
    step = _current(step)
    last = step.ticks.order_by("at", "id").last()
    if last is not None and last.is_done is done:
        return last
    if last is None and not done:
        raise BadInput(f"Step {step.number} is not ticked.", field="number")
    entry = _entry(by, step.plan, now, at, client_id, f"step {step.number}", done=done)
    answered = {"ended_at": ended_at, "confirm": confirm}
    return _tick(by, step, now, at, entry.client_id, done=done, **answered)


@once(words.EntryKind.STEP, first=_ticks_first)
def tick_to(
    *,
    by: Person,
    plan: Plan,
    number: int,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    ended_at: datetime | None = None,
    confirm: bool = False,
) -> list[StepTick]:
    """Tick every step up to `number`: all, or none and the step that refuses."""
    require(by, "write")
    plan = Plan.objects.select_for_update().select_related("build").get(pk=plan.pk)
    _refuse_old(plan)
    steps = list(plan.steps.filter(number__lte=number).prefetch_related("ticks"))
    if not steps or steps[-1].number != number:
        raise BadInput(f"There is no step {number} in this plan.", field="number")
    open_steps = [step for step in steps if not is_ticked(step)]
    ids = {step.pk: new_client_id() for step in open_steps}
    entry = write_entry(
        kind=words.EntryKind.STEP,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        build=plan.build,
        text=f"edition {plan.edition}: all to step {number}",
        before={"ticks": list(ids.values())},
    )
    ticks = []
    for step in open_steps:
        try:
            ticks.append(
                _tick(
                    *(by, step, now, at or entry.at, ids[step.pk]),
                    done=True,
                    ended_at=ended_at,
                    confirm=confirm,
                )
            )
        except ShopError as refusal:
            raise type(refusal)(
                f"Step {step.number}: {refusal.message}",
                field="number",
                code=refusal.code,
            ) from refusal
    return ticks


def _tick(
    by: Person,
    step: PlanStep,
    now: datetime,
    at: datetime | None,
    client_id: str,
    *,
    done: bool,
    **answered: Any,
) -> StepTick:
    _move(by, step, now, at, done=done, **answered)
    return StepTick.objects.create(
        step=step,
        is_done=done,
        person=by,
        at=at or now,
        server_at=now,
        client_id=client_id,
    )


def _move(
    by: Person,
    step: PlanStep,
    now: datetime,
    at: datetime | None,
    *,
    done: bool,
    **answered: Any,
) -> None:
    """Bring the part or the task to what the step says, where it is not so yet."""
    if step.task is not None:
        finished = step.task.state in _FINISHED
        if done and not finished:
            finish_work(by=by, task=step.task, now=now, at=at, **answered)
        elif not done and finished:
            reopen_task(by=by, task=step.task, now=now)
        return
    assert step.component is not None
    confirm = bool(answered.get("confirm"))
    off = (step.does == words.StepDo.REMOVE) is done
    if step.does == words.StepDo.REMOVE and not done and not step.component.is_on:
        _never_came_off(by, step, step.component, now, at)
    elif off and step.component.is_on:
        take_off(by=by, component=step.component, now=now, at=at, confirm=confirm)
    elif not off and not step.component.is_on:
        if not confirm:
            _ask_before_closing(step.component, at or now)
        put_on(by=by, component=step.component, now=now, at=at)


def _never_came_off(
    by: Person,
    step: PlanStep,
    component: Component,
    now: datetime,
    at: datetime | None,
) -> None:
    """A tick too many: the part is on, as it was, so no hold is asked about it."""
    before: Before = {}
    move(component, before, is_on=True)
    write_entry(
        kind=words.EntryKind.PUT_ON,
        by=by,
        now=now,
        at=at,
        component=component,
        text=f"Step {step.number} was not done after all.",
        before=before,
    )


def _ask_before_closing(component: Component, at: datetime) -> None:
    """A cure that needs this component off is asked about before it goes on."""
    site = (
        Site.objects.filter(
            component=component,
            kind=words.SiteKind.KEEPS_OPEN,
            task__cured_at__gt=at,
            task__state__in=_FINISHED,
        )
        .select_related("task")
        .order_by("-task__cured_at")
        .first()
    )
    if site is not None and site.task.cured_at is not None:
        raise NeedsAnswer(
            f"{site.task} cures until {wall.clock(site.task.cured_at, beside=at)} and "
            f"keeps {component} off so long. Put it on all the same?",
            field="number",
            code="still-curing",
        )


def _current(step: PlanStep) -> PlanStep:
    """The step itself, locked with its plan; of an old edition, the accepted one's."""
    plan = Plan.objects.select_for_update().get(pk=step.plan_id)
    steps = PlanStep.objects.select_related("plan__build", "task", "component")
    if plan.state == words.PlanState.ACCEPTED:
        return steps.get(pk=step.pk)
    if plan.state == words.PlanState.SUPERSEDED:
        same = steps.filter(
            plan__build=plan.build_id,
            plan__kind=plan.kind,
            plan__state=words.PlanState.ACCEPTED,
            does=step.does,
            task=step.task_id,
            component=step.component_id,
        ).first()
        if same is not None:
            Plan.objects.select_for_update().get(pk=same.plan_id)
            return same
    _refuse_old(plan)
    raise Clash("This step is in no accepted plan.")


def _refuse_old(plan: Plan) -> None:
    if plan.state == words.PlanState.PROPOSED:
        raise Clash("This plan is not accepted yet: accept it, then tick its steps.")
    if plan.state == words.PlanState.SUPERSEDED:
        current = Plan.objects.accepted().filter(build=plan.build_id, kind=plan.kind)
        edition = current.values_list("edition", flat=True).first() or "none"
        raise Clash(
            f"Your sheet is edition {plan.edition}, the plan is edition {edition}; "
            "this step is not in it any more. Open the new one."
        )


def _entry(
    by: Person,
    plan: Plan,
    now: datetime,
    at: datetime | None,
    client_id: str | None,
    what: str,
    *,
    done: bool,
) -> LogEntry:
    return write_entry(
        kind=words.EntryKind.STEP,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        build=plan.build,
        text=f"edition {plan.edition}: {what}{'' if done else ' not done after all'}",
    )
