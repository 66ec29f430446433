"""Joints whose welds are not accepted: nobody paints, covers or closes over them."""

from __future__ import annotations

from collections.abc import Mapping

from fabshop.reckoning.facts import ComponentFact, Facts, JointFact, TaskFact


def joints_under(task: TaskFact, facts: Facts) -> tuple[JointFact, ...]:
    """The joints, not accepted, that this task would close, itself or by its parts."""
    fitted = set(task.fits)
    return tuple(
        joint
        for joint in facts.joints
        if task.id in joint.tasks or fitted.intersection(joint.components)
    )


def joint_sentence(joints: tuple[JointFact, ...]) -> str:
    """Why a task over these must wait, each with how far it is."""
    told = ", ".join(f"{joint.id} {joint.state.label}" for joint in joints)
    return f"{told}: nobody paints or covers a joint before its weld is accepted"


def over_welds(task: TaskFact, facts: Facts) -> tuple[str, ...]:
    """The components that may not go on before this task has made its welds."""
    mine = [joint for joint in facts.joints if joint.task == task.id]
    return tuple(name for joint in mine for name in joint.components)


def barred(facts: Facts, tasks: frozenset[str]) -> frozenset[str]:
    """The components over joints not accepted that none of these tasks welds."""
    bare = [joint for joint in facts.joints if joint.task not in tasks]
    return frozenset(name for joint in bare for name in joint.components)


def joint_notes(facts: Facts, build: str, tasks: frozenset[str]) -> list[str]:
    """What a teardown of these tasks may not close: the joints and their covers."""
    notes = []
    for joint in facts.joints:
        parts = [
            name
            for name in joint.components
            if name in facts.component_by_id
            and facts.component_by_id[name].build == build
        ]
        if parts:
            names = " ".join(parts)
            notes.append(
                f"{joint.id} is {joint.state.label}: its weld is accepted after "
                f"{joint.task} before {names} go on"
                if joint.task in tasks
                else f"{joint.id} is {joint.state.label}, not accepted: "
                f"{names} may not go on over it"
            )
    return notes


def opened(
    parts: Mapping[str, ComponentFact], shut: frozenset[str] = frozenset()
) -> set[str]:
    """The parts that can be reached without taking off a fitted one that is `shut`."""
    found: set[str] = set()
    ahead = set(parts)

    def is_free(name: str) -> bool:
        part = parts.get(name)
        return part is None or not part.is_on or (name in found and name not in shut)

    while ahead:
        now = {
            name
            for name in ahead
            if any(all(map(is_free, way)) for way in parts[name].routes or ((),))
        }
        if not now:
            break
        found |= now
        ahead -= now
    return found
