"""Joints whose welds are not accepted: nobody paints, covers or closes over them."""

from __future__ import annotations

from fabshop.reckoning.facts import Facts, JointFact, TaskFact


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
        if parts and joint.task not in tasks:
            notes.append(
                f"{joint.id} is {joint.state.label}, not accepted: "
                f"{' '.join(parts)} may not go on over it"
            )
    return notes
