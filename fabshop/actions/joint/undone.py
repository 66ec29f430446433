"""What an undo does to a joint's own lines: they stand, and say nothing any more."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from fabshop import words
from fabshop.errors import Clash
from fabshop.reckoning.prep import must_be_ready
from fabshop.records.joint import ColourCall, Joint, JointMove, PrepStep, PrepTick
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person

_STAGES = tuple(words.PrepStage)


def refuse_past(joint: Joint, step: PrepStep) -> None:
    """Refuse to take away a stop step that let the joint get where it is."""
    reached = must_be_ready(words.JointState(joint.state))
    if not step.is_stop or reached is None:
        return
    if _STAGES.index(words.PrepStage(step.stage)) <= _STAGES.index(reached):
        state = words.JointState(joint.state).label
        raise Clash(
            f"{joint.code} is {state} by this step. Put its state back first.",
            code="is-past",
        )


def _moves(entry: LogEntry, by: Person, now: datetime) -> None:
    moves = JointMove.objects.filter(pk__in=entry.before["joint_moves"])
    moves.update(is_taken_back=True)


def _tick(entry: LogEntry, by: Person, now: datetime) -> None:
    tick = PrepTick.objects.select_related("run", "step").get(
        pk=entry.before["prep_tick"]
    )
    joint = _held(tick.run.joint_id)
    if tick.run.attempt != joint.reworks:
        raise Clash(f"{joint.code} has been rejected since; that stays as it was.")
    refuse_past(joint, tick.step)
    PrepTick.objects.filter(pk=tick.pk).update(is_taken_back=True)


def _call(entry: LogEntry, by: Person, now: datetime) -> None:
    call = ColourCall.objects.get(pk=entry.before["colour_call"])
    joint = _held(call.joint_id)
    if joint.state == words.JointState.ACCEPTED and call.attempt == joint.reworks:
        raise Clash(f"{joint.code} was accepted by this call; undo that first.")
    ColourCall.objects.filter(pk=call.pk).update(is_taken_back=True)


def _held(pk: int) -> Joint:
    return Joint.objects.select_for_update(no_key=True).get(pk=pk)


JOINT_EFFECTS: dict[str, Callable[[LogEntry, Person, datetime], None]] = {
    "joint_moves": _moves,
    "prep_tick": _tick,
    "colour_call": _call,
}
