"""Contradictions of the joints: states, twins, checklists and what lies over them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from django.db.models import F

from fabshop import words
from fabshop.actions.joint.over import is_over
from fabshop.actions.joint.prep import prep_now
from fabshop.actions.joint.state import is_taken_over
from fabshop.clock import now
from fabshop.records.joint import ColourCall, Joint, JointCover, PrepTick


def _one_sided_twins() -> Iterator[str]:
    """A joint whose twin has another twin, or turns the same way round."""
    for joint in Joint.objects.exclude(twin=None).select_related("twin"):
        twin = joint.twin
        if twin is not None and twin.twin_id != joint.pk:
            yield f"{joint} is the twin of {twin}, which has another."


def _accepted_past_a_stop() -> Iterator[str]:
    """An accepted joint with a stop step open."""
    moment = now()
    for joint in Joint.objects.filter(state=words.JointState.ACCEPTED):
        if is_taken_over(joint):
            # Made before this record: how it was prepared is not known.
            continue
        prep = prep_now(joint, moment)
        stops = prep.open_stops(words.PrepStage.LOOK)
        if stops:
            yield f"{joint} is accepted, step {stops[0].step.number} is open."


def _moved_elsewhere() -> Iterator[str]:
    """A joint in another state than its own log says, or counted otherwise."""
    for joint in Joint.objects.prefetch_related("moves"):
        moves = [move for move in joint.moves.all() if not move.is_taken_back]
        last = max(moves, key=lambda move: move.pk, default=None)
        said = last.state if last else words.JointState.PLANNED
        if said != joint.state:
            yield f"{joint} is {joint.state}, its log says {said}."


def _stray_ticks() -> Iterator[str]:
    """A tick on a step of another checklist than the joint's."""
    stray = PrepTick.objects.exclude(step__template=F("run__template"))
    for tick in stray.select_related("run__joint"):
        yield f"{tick.run.joint} is ticked by a step of another checklist."


def _closed_over() -> Iterator[str]:
    """Paint, a cover or a component over a joint that is not accepted."""
    covers = JointCover.objects.select_related("joint", "task", "component")
    waits = covers.exclude(joint__state=words.JointState.ACCEPTED)
    # A weld found bad under its paint is in rework or looked at again, and says so.
    known = (words.JointState.REWORK,)
    for cover in waits:
        joint = cover.joint
        if joint.state in known or joint.inspect_why:
            continue
        part = cover.component
        if part is not None and part.is_on:
            yield f"{part} is on over {joint}, which is {joint.state}."
        if is_over(cover):
            yield f"{cover.task} is done over {joint}, which is {joint.state}."


def _colours_of_nothing() -> Iterator[str]:
    """A colour called of an attempt that there has not been."""
    calls = ColourCall.objects.filter(
        attempt__gt=F("joint__reworks"), is_taken_back=False
    )
    for call in calls.select_related("joint"):
        yield f"{call.joint} has a colour of attempt {call.attempt}, never begun."


JOINT_CHECKS: dict[str, Callable[[], Iterable[str]]] = {
    "joint-twin-of-another": _one_sided_twins,
    "joint-accepted-past-a-stop": _accepted_past_a_stop,
    "joint-not-as-its-log": _moved_elsewhere,
    "joint-ticked-elsewhere": _stray_ticks,
    "joint-closed-over": _closed_over,
    "joint-colour-of-nothing": _colours_of_nothing,
}
