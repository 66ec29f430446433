"""Ticks on a joint's checklist, each with its time; the first one begins it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal

from fabshop import words
from fabshop.actions.joint.locked import joint_of, locked_joint, write_joint
from fabshop.actions.joint.template import template_of, template_seen
from fabshop.actions.joint.undone import refuse_past
from fabshop.actions.log.entry import new_client_id, once
from fabshop.actions.moved import Before, move
from fabshop.actions.shop import require, the_shop
from fabshop.actions.typed import number
from fabshop.errors import BadInput, Clash, NotFound
from fabshop.reckoning.prep import Prep, StepFact, TickFact, prep_of
from fabshop.records.joint import Joint, PrepRun, PrepStep, PrepTick
from fabshop.records.shop import Person

MOST_MINUTES = 600
_MOST_FIGURE = Decimal(1_000_000)


@once(words.EntryKind.PREPARED, first=joint_of)
def begin_prep(
    *,
    by: Person,
    joint: Joint,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Joint:
    """Begin a joint's checklist on its metal's version of now, and keep to that."""
    require(by, "write")
    joint = locked_joint(joint)
    _refuse_accepted(joint)
    if run_of(joint) is not None:
        return joint
    run = run_begun(joint, now)
    write_joint(
        words.EntryKind.PREPARED,
        joint,
        f"checklist begun, version {run.template.version}",
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        before={},
    )
    return joint


@once(words.EntryKind.PREPARED, first=joint_of)
def tick_step(
    *,
    by: Person,
    joint: Joint,
    number: int,
    now: datetime,
    is_done: bool = True,
    value: Decimal | None = None,
    minutes: int | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Joint:
    """Tick a step, start its mark or give its figure; `is_done` False takes it away.

    A step that let the joint go on is not taken away any more: the state is put
    back first. `minutes` of a start mark are the shop's own, asked where none are.
    """
    require(by, "write")
    joint = locked_joint(joint)
    _refuse_accepted(joint)
    run = run_of(joint) or run_begun(joint, now)
    step = run.template.steps.filter(number=number).first()
    if step is None:
        raise NotFound(f"This checklist has no step {number}.", field="number")
    if not is_done:
        refuse_past(joint, step)
    at = min(at or now, now)
    told = client_id or new_client_id()
    tick = PrepTick.objects.create(
        run=run,
        step=step,
        is_done=is_done,
        value=_figure(step, value) if is_done else None,
        minutes=_minutes(step, minutes) if is_done else None,
        person=by,
        at=at,
        client_id=told,
    )
    before: Before = {"prep_tick": tick.pk}
    write_joint(
        words.EntryKind.PREPARED,
        joint,
        _said(tick),
        by=by,
        now=now,
        at=at,
        client_id=told,
        before=before,
    )
    return joint


def run_of(joint: Joint) -> PrepRun | None:
    """The checklist of the attempt that a joint is on, where it is begun."""
    runs = joint.runs.select_related("template")
    return runs.filter(attempt=joint.reworks).first()


def run_begun(joint: Joint, now: datetime) -> PrepRun:
    """Begin the checklist of this attempt; the joint has moved by that."""
    run = PrepRun.objects.create(
        joint=joint,
        template=template_of(joint.metal, now),
        attempt=joint.reworks,
        begun_at=now,
    )
    move(joint, {}, state=joint.state)
    return run


def prep_now(joint: Joint, now: datetime) -> Prep:
    """How the joint's checklist stands; one not begun has all its steps open."""
    run = run_of(joint)
    steps = (
        list(run.template.steps.all()) if run else template_seen(joint.metal, now)[1]
    )
    ticks = run.ticks.filter(is_taken_back=False) if run else PrepTick.objects.none()
    shop = the_shop()
    return prep_of(
        step_facts(steps),
        tick_facts(ticks.select_related("step", "person")),
        now,
        clean_minutes=shop.clean_minutes if shop else 0,
    )


def step_facts(steps: Iterable[PrepStep]) -> tuple[StepFact, ...]:
    return tuple(
        StepFact(
            number=step.number,
            text=step.text,
            stage=words.PrepStage(step.stage),
            kind=words.PrepKind(step.kind),
            does=words.PrepDoes(step.does),
            is_stop=step.is_stop,
            minutes=step.minutes,
            unit=step.unit,
            caution=step.caution,
            source=step.source,
        )
        for step in steps
    )


def tick_facts(ticks: Iterable[PrepTick]) -> tuple[TickFact, ...]:
    return tuple(
        TickFact(
            step=tick.step.number,
            at=tick.at,
            is_done=tick.is_done,
            by=tick.person.name,
            value=tick.value,
            minutes=tick.minutes,
        )
        for tick in ticks
    )


def _refuse_accepted(joint: Joint) -> None:
    if joint.state == words.JointState.ACCEPTED:
        raise Clash(f"{joint} is accepted: its checklist is closed.", code="accepted")


def _figure(step: PrepStep, value: Decimal | None) -> Decimal | None:
    if step.kind != words.PrepKind.NUMBER:
        return None
    if value is None:
        raise BadInput(f"{step.text}: no figure is written.", field="value")
    if not value.is_finite() or not 0 <= value < _MOST_FIGURE:
        raise BadInput(
            f"{step.text}: {str(value)[:20]} is no figure of this.", field="value"
        )
    return value


def _minutes(step: PrepStep, minutes: int | None) -> int | None:
    if step.kind != words.PrepKind.MINUTES:
        return None
    wanted = step.minutes if minutes is None else minutes
    if wanted is None:
        raise BadInput(
            f"{step.text}: how many minutes? Your own record says; this shop's "
            "program does not.",
            field="minutes",
        )
    if step.minutes is not None and wanted < step.minutes:
        raise BadInput(
            f"{step.text}: {wanted} min is less than the {step.minutes} of your own "
            "checklist.",
            field="minutes",
        )
    return number(wanted, field="minutes", label="Minutes", most=MOST_MINUTES)


def _said(tick: PrepTick) -> str:
    if not tick.is_done:
        return f"not done after all: {tick.step.text}"
    if tick.minutes is not None:
        return f"started, {tick.minutes} min: {tick.step.text}"
    if tick.value is not None:
        return f"{tick.step.text}: {tick.value.normalize():f} {tick.step.unit}".rstrip()
    return tick.step.text
