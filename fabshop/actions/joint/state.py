"""A joint moves on: welded past no open stop, accepted by the owner alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from django.db.models import Q

from fabshop import words
from fabshop.actions import wall
from fabshop.actions.joint.define import TAKEN_OVER, refuse_unfit_metal
from fabshop.actions.joint.locked import (
    joint_of,
    locked_joint,
    locked_joints,
    move_state,
    refuse_moved,
    write_joint,
)
from fabshop.actions.joint.prep import prep_now, run_of
from fabshop.actions.joint.template import template_seen
from fabshop.actions.log.entry import once
from fabshop.actions.moved import Before, move
from fabshop.actions.shop import require
from fabshop.actions.typed import one_line
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.reckoning.prep import Prep, must_be_ready, ways_on
from fabshop.records.joint import ColourCall, Joint
from fabshop.records.shop import Person
from fabshop.units import show_minutes

# From this rejection on somebody asks whether the joint is to be cut out.
ASK_FROM = 3
_LOOKED_AT = (words.JointState.WELDED, words.JointState.ACCEPTED)


@once(words.EntryKind.JOINT, first=joint_of)
def move_joint(
    *,
    by: Person,
    joint: Joint,
    state: words.JointState | str,
    now: datetime,
    reason: str = "",
    seen_version: int | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Joint:
    """Put a joint one or more states on, or back before it is welded.

    Nothing is tacked or welded while a stop step is open, nor of an unknown heat or
    two materials unless that is waived. Over stale cleaning the owner may go on,
    with a `reason`.
    """
    require(by, "write")
    joint = locked_joint(joint)
    refuse_moved(joint, seen_version)
    state = _state(state)
    was = words.JointState(joint.state)
    if state == was:
        return joint
    if state not in ways_on(was):
        raise Clash(_no_way(joint, state), code="no-way")
    why = one_line(reason, field="reason", label="Reason", most=300)
    stage = must_be_ready(state)
    if stage is not None:
        refuse_unfit_metal(joint, state)
        # A tap that comes in late is judged by when it was made.
        prep = prep_now(joint, min(at or now, now))
        _refuse_open(joint, state, prep, stage)
        _refuse_stale(prep, by, why, joint)
    before: Before = {}
    move_state(joint, before, state, by=by, at=at or now, reason=why)
    write_joint(
        words.EntryKind.JOINT,
        joint,
        state.label + f", {why}" * bool(why),
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        before=before,
    )
    return joint


@once(words.EntryKind.JOINT, first=joint_of)
def accept_joint(
    *,
    by: Person,
    joint: Joint,
    now: datetime,
    looked: str = "",
    waive_colour: str = "",
    seen_version: int | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Joint:
    """Accept a weld: every stop done, its colour called good, looked at if asked.

    `looked` is what was found where an inspection was raised; `waive_colour` why
    its colour is not known, which prints on the traveler.
    """
    require(by, "write")
    if not by.is_owner:
        raise NotAllowed("Only the owner accepts a weld; what you ticked is kept.")
    joint = locked_joint(joint)
    refuse_moved(joint, seen_version)
    if joint.state != words.JointState.WELDED:
        raise Clash(_no_way(joint, words.JointState.ACCEPTED), code="no-way")
    refuse_unfit_metal(joint, words.JointState.ACCEPTED)
    accepted = words.JointState.ACCEPTED
    prep = prep_now(joint, now)
    if is_taken_over(joint):
        prep = after_the_weld(prep)
    _refuse_open(joint, accepted, prep, words.PrepStage.LOOK)
    seen = one_line(looked, field="looked", label="Looked at", most=200)
    if joint.inspect_why and not seen:
        raise Clash(
            f"{joint.code} must be looked at again: {joint.inspect_why}. Say what was "
            "found.",
            field="looked",
            code="look-first",
        )
    waived = one_line(waive_colour, field="waive_colour", label="Waived", most=150)
    if not waived:
        _refuse_uncalled(joint, now)
    reason = "; ".join(
        said
        for said in (
            f"looked at: {seen}" if joint.inspect_why else "",
            f"colour waived: {waived}" if waived else "",
        )
        if said
    )
    before: Before = {}
    found = seen or joint.found
    move_state(
        *(joint, before, accepted),
        by=by,
        at=at or now,
        reason=reason,
        inspect_why="",
        found=found,
    )
    write_joint(
        words.EntryKind.JOINT,
        joint,
        "weld accepted" + f", {reason}" * bool(reason),
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        before=before,
    )
    return joint


@once(words.EntryKind.JOINT, first=joint_of)
def reject_joint(
    *,
    by: Person,
    joint: Joint,
    reason: str,
    now: datetime,
    third: str = "",
    seen_version: int | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Joint:
    """Reject a weld: rework, counted; its welded twin must be looked at again.

    Anybody who writes may, for that closes nothing up. From the third on, `third`
    says what is done about it: cut out, a gusset, or why once more.
    """
    require(by, "write")
    joint, *twins = _with_twin(joint)
    refuse_moved(joint, seen_version)
    before: Before = {}
    reject(joint, twins, before, by=by, at=at or now, reason=reason, third=third)
    write_joint(
        words.EntryKind.JOINT,
        joint,
        f"rework {joint.reworks}, {joint.found}",
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        before=before,
    )
    return joint


def reject(
    joint: Joint,
    twins: list[Joint],
    before: Before,
    *,
    by: Person,
    at: datetime,
    reason: str,
    third: str = "",
) -> None:
    """Put a locked joint into rework, and raise the inspection of its twin."""
    if joint.state not in _LOOKED_AT:
        raise Clash(
            f"{joint} is {words.JointState(joint.state).label}: there is no weld to "
            "reject.",
            code="not-welded",
        )
    found = one_line(reason, field="reason", label="What is wrong", most=150)
    if not found:
        raise BadInput("Say what is wrong with it.", field="reason")
    count = joint.reworks + 1
    then = one_line(third, field="third", label="Cut it out?", most=150)
    if count >= ASK_FROM and not then:
        raise NeedsAnswer(
            f"This would be rework {count} of {joint.code}. Cut it out, or a gusset? "
            "Write what you do, or why it is welded once more.",
            field="third",
            code="third-rework",
        )
    rework = words.JointState.REWORK
    why = found + f"; {then}" * bool(then)
    move_state(
        *(joint, before, rework),
        by=by,
        at=at,
        reason=why,
        reworks=count,
        found=found,
        inspect_why="",
    )
    for twin in twins:
        _look_again(twin, joint, before, by=by, at=at)


def with_twin(joint: Joint) -> list[Joint]:
    """The joint and its twin, where it has one, both held."""
    return _with_twin(joint)


def _with_twin(joint: Joint) -> list[Joint]:
    return locked_joints([joint, *Joint.objects.filter(twin=joint)])


def _look_again(
    twin: Joint, failed: Joint, before: Before, *, by: Person, at: datetime
) -> None:
    """A twin that is welded was made the same way: it is not accepted till seen."""
    if twin.state not in _LOOKED_AT:
        return
    why = f"twin {failed.code} failed, {failed.found}"
    if twin.state == words.JointState.WELDED:
        move(twin, before, inspect_why=why)
        return
    welded = words.JointState.WELDED
    move_state(twin, before, welded, by=by, at=at, reason=why, inspect_why=why)


def _refuse_open(
    joint: Joint, state: words.JointState, prep: Prep, stage: words.PrepStage
) -> None:
    stops = prep.open_stops(stage)
    if not stops:
        return
    said = []
    for stop in stops:
        until = ""
        if stop.ends_at is not None:
            until = f" (runs until {wall.clock(stop.ends_at, beside=prep.now)})"
        said.append(f"{stop.step.number} {stop.step.text}{until}")
    raise Clash(
        f"{joint.code} is not {state.label} yet, "
        f"{len(said)} stop step{'s' * (len(said) > 1)} open: {'; '.join(said)}.",
        field="state",
        code="stop-open",
    )


def _refuse_stale(prep: Prep, by: Person, why: str, joint: Joint) -> None:
    """Cleaning too long ago: clean again, or the owner goes on with a reason."""
    if not prep.is_stale or prep.cleaned_at is None:
        return
    since: timedelta = prep.now - prep.cleaned_at
    sentence = (
        f"{joint.code} was cleaned {show_minutes(int(since.total_seconds()) // 60)} "
        f"ago, {wall.clock(prep.cleaned_at, beside=prep.now)}: clean it again"
    )
    if by.is_owner and why:
        return
    raise NeedsAnswer(
        f"{sentence}, or {'go on with a reason' if by.is_owner else 'ask the owner'}. "
        "(The hours are this shop's setting, a rule of thumb.)",
        field="reason",
        code="stale",
    )


def _refuse_uncalled(joint: Joint, now: datetime) -> None:
    run = run_of(joint)
    template = run.template if run else template_seen(joint.metal, now)[0]
    if not template.wants_colour:
        return
    call = last_call(joint)
    if call is None:
        raise Clash(
            f"The colour of {joint.code} has not been called. Call it before any "
            "brush, or waive it with a reason.",
            field="waive_colour",
            code="not-called",
        )
    if call.verdict != words.Verdict.ACCEPT:
        raise Clash(f"The colour of {joint.code} was rejected.", code="not-called")


def is_taken_over(joint: Joint) -> bool:
    """Whether this weld was made before the record: how it was prepared is not known.

    What is known is what can still be looked at; a rework begins a record.
    """
    about = Q(state=words.JointState.REWORK) | Q(reason__startswith=TAKEN_OVER)
    moves = joint.moves.filter(about, is_taken_back=False).order_by("pk")
    last = moves.last()
    return (
        last is not None
        and last.reason.startswith(TAKEN_OVER)
        and last.state in _LOOKED_AT
    )


def after_the_weld(prep: Prep) -> Prep:
    """The steps that a weld made before the record can still be held to."""
    look = words.PrepStage.LOOK
    stands = tuple(stand for stand in prep.stands if stand.step.stage is look)
    return replace(prep, stands=stands)


def last_call(joint: Joint) -> ColourCall | None:
    """The latest colour call of the attempt that a joint is on."""
    calls = joint.calls.filter(attempt=joint.reworks, is_taken_back=False)
    return calls.order_by("at", "id").last()


def _state(value: words.JointState | str) -> words.JointState:
    try:
        return words.JointState(value)
    except ValueError:
        known = ", ".join(word.value for word in words.JointState)
        raise BadInput(
            f"State: “{str(value)[:20]}” is none of {known}.", field="state"
        ) from None


def _no_way(joint: Joint, state: words.JointState) -> str:
    now = words.JointState(joint.state)
    if state == words.JointState.REWORK:
        return f"{joint} goes into rework by being rejected, with what is wrong."
    if state == words.JointState.ACCEPTED:
        return f"{joint} is {now.label}; only a welded joint is accepted."
    return f"{joint} is {now.label} and does not become {state.label} by a tap."
