"""What a joint is: its members, geometry, material, lots, and who welds it when."""

from __future__ import annotations

from collections.abc import Mapping
from copy import copy
from datetime import datetime
from typing import Any, TypeVar

from django.db import IntegrityError, transaction

from fabshop import words
from fabshop.actions.build.change import refuse_closed
from fabshop.actions.joint.doubt import ask_about_angle
from fabshop.actions.joint.locked import (
    joint_of,
    locked_joint,
    move_state,
    refuse_moved,
    write_joint,
)
from fabshop.actions.log.entry import once
from fabshop.actions.moved import Before, move
from fabshop.actions.shop import require
from fabshop.actions.typed import code as fit_code
from fabshop.actions.typed import number, one_line, some_line
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.build import Build
from fabshop.records.joint import Joint
from fabshop.records.shop import Person
from fabshop.records.task import Task
from fabshop.reference.material import materials

# How the log line of a joint begins that was made before this record.
TAKEN_OVER = "taken over: "
AWord = TypeVar("AWord", bound=words.Word)

LINES = {
    "name": 120,
    "material": 40,
    "onto_material": 40,
    "cut_mark": 44,
    "cut_heat_lot": 40,
    "onto_heat_lot": 40,
    "filler": 40,
    "filler_lot": 40,
    "heat_waived_why": 160,
    "dissimilar_why": 160,
}
LOTS = ("cut_heat_lot", "onto_heat_lot", "filler", "filler_lot")
_LENGTHS = ("cut_od_um", "cut_wall_um", "onto_od_um")
_GEOMETRY = (*_LENGTHS, "angle_mdeg", "offset_um", "twist_mdeg")
_FIELDS = {*LINES, *_GEOMETRY, "metal", "task", "coped_in", "gas_mbar"}
_MADE = (words.JointState.WELDED, words.JointState.ACCEPTED, words.JointState.REWORK)
# One metal is told by what the reference calls its family.
METALS = {
    "titanium": words.Metal.TITANIUM,
    "stainless": words.Metal.STAINLESS,
    "chromoly": words.Metal.CHROMOLY,
    "mild steel": words.Metal.CHROMOLY,
    "aluminium": words.Metal.ALUMINIUM,
}


@once(words.EntryKind.JOINT, first=joint_of)
def add_joint(
    *,
    by: Person,
    build: Build,
    code: str,
    now: datetime,
    state: words.JointState | str = words.JointState.PLANNED,
    reworks: int = 0,
    found: str = "",
    taken_over: str = "",
    inspect_why: str = "",
    confirm: bool = False,
    at: datetime | None = None,
    client_id: str | None = None,
    **fields: Any,
) -> Joint:
    """Add a joint. One that was made before this record begins is `taken_over` in the
    state it is in, by the owner, with where that is known from; its log says so.

    An angle that the frame says otherwise is asked about; `confirm` answers.
    """
    require(by, "own")
    refuse_closed(build)
    state = _known(words.JointState, state, "state", "State")
    taken = one_line(taken_over, field="taken_over", label="Taken over", most=160)
    if state != words.JointState.PLANNED and not taken:
        raise BadInput(
            "A joint begins planned. Say where it is known from that it is "
            f"{state.label} already.",
            field="taken_over",
        )
    good = _checked({"name": "", **fields}, build)
    if "metal" not in good:
        good["metal"] = metal_of(good.get("material", ""))
    _refuse_missing(good)
    joint = Joint(
        code=fit_code(code),
        build=build,
        reworks=number(reworks, field="reworks", label="Reworks", most=99),
        found=one_line(found, field="found", label="Found", most=200),
        inspect_why=one_line(
            inspect_why, field="inspect_why", label="Look again", most=200
        ),
        **good,
    )
    if joint.inspect_why and state != words.JointState.WELDED:
        raise BadInput("Only a weld is looked at again.", field="inspect_why")
    if state == words.JointState.REWORK:
        joint.reworks = max(1, joint.reworks)
    _refuse_unfit_geometry(joint)
    if not confirm:
        ask_about_angle(joint)
    try:
        with transaction.atomic():
            joint.save()
    except IntegrityError:
        raise Clash(f"There is a joint {joint.code} already.", field="code") from None
    before: Before = {}
    if state != words.JointState.PLANNED:
        refuse_unfit_metal(joint, state)
        reason = f"{TAKEN_OVER}{taken}" + f"; {joint.found}" * bool(joint.found)
        move_state(joint, {}, state, by=by, at=at or now, reason=reason)
    write_joint(
        words.EntryKind.JOINT,
        joint,
        f"joint added, {state.label}",
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        before=before,
    )
    return joint


@once(words.EntryKind.JOINT, first=joint_of)
def change_joint(
    *,
    by: Person,
    joint: Joint,
    now: datetime,
    seen_version: int | None = None,
    confirm: bool = False,
    at: datetime | None = None,
    client_id: str | None = None,
    **fields: Any,
) -> Joint:
    """Change what is said of a joint; the geometry of a welded one stays.

    An angle that its twin or the frame says otherwise is asked about: `confirm`.
    """
    require(by, "own")
    return _change(joint, fields, by, now, at, client_id, seen_version, confirm=confirm)


@once(words.EntryKind.JOINT, first=joint_of)
def set_lots(
    *,
    by: Person,
    joint: Joint,
    now: datetime,
    seen_version: int | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
    **lots: str,
) -> Joint:
    """Write down the heat lots of both sides, the filler and its lot, as read off."""
    require(by, "write")
    if other := sorted(set(lots) - set(LOTS)):
        raise BadInput(f"{other[0]} is no lot.", field=other[0])
    return _change(joint, lots, by, now, at, client_id, seen_version)


def metal_of(material: str) -> words.Metal:
    """The metal a known material is prepared as; refused where it must be said."""
    row = materials().get(material)
    metal = METALS.get(row.family) if row else None
    if metal is None:
        raise BadInput(
            f"Metal: {material or 'this material'} is not in the table. Say which "
            "checklist it takes: titanium, stainless, chromoly or aluminium.",
            field="metal",
        )
    return metal


def refuse_unfit_metal(joint: Joint, state: words.JointState) -> None:
    """Refuse to tack or weld unknown heats, or two materials, without a reason."""
    sides = {"the coped tube": joint.cut_heat_lot, "its main": joint.onto_heat_lot}
    unknown = [side for side, lot in sides.items() if not lot]
    if unknown and not joint.heat_waived_why:
        raise Clash(
            f"The heat lot of {' and of '.join(unknown)} at {joint.code} is unknown: "
            f"a frame joint is not {state.label} with it. Write the lot down, or the "
            "owner waives it with a reason; it prints as UNKNOWN.",
            field="heat_waived_why",
            code="heat-unknown",
        )
    other = [m for m in (joint.onto_material, _strange_filler(joint)) if m]
    other = [material for material in other if material != joint.material]
    if other and not joint.dissimilar_why:
        raise Clash(
            f"{joint.code} is {joint.material}, but {' and '.join(other)} is not. "
            "Change it, or the owner waives it as dissimilar, on purpose, with a "
            "reason.",
            field="dissimilar_why",
            code="dissimilar",
        )


def _strange_filler(joint: Joint) -> str:
    row = materials().get(joint.filler)
    if row is None or METALS.get(row.family) in (None, words.Metal(joint.metal)):
        return ""
    return joint.filler


def _change(
    joint: Joint,
    fields: Mapping[str, Any],
    by: Person,
    now: datetime,
    at: datetime | None,
    client_id: str | None,
    seen_version: int | None,
    *,
    confirm: bool = False,
) -> Joint:
    joint = locked_joint(joint)
    refuse_moved(joint, seen_version)
    given = _checked(fields, joint.build)
    new = {
        name: value for name, value in given.items() if getattr(joint, name) != value
    }
    if not new:
        return joint
    waives = [n for n in ("heat_waived_why", "dissimilar_why") if n in new]
    if waives and not by.is_owner:
        raise NotAllowed("Only the owner waives what a joint is made of.")
    geometry = [name for name in new if name in _GEOMETRY]
    if geometry and joint.state in _MADE:
        raise Clash(
            f"{joint} is {words.JointState(joint.state).label}: its geometry stays.",
            field=geometry[0],
            code="is-welded",
        )
    changed = copy(joint)
    for name, value in new.items():
        setattr(changed, name, value)
    _refuse_unfit_geometry(changed)
    if "angle_mdeg" in new and not confirm:
        ask_about_angle(changed)
    if joint.state in (words.JointState.TACKED, *_MADE):
        refuse_unfit_metal(changed, words.JointState(joint.state))
    before: Before = {}
    move(joint, before, **{_column(n): _stored(v) for n, v in new.items()})
    said = ", ".join(sorted(name.replace("_", " ") for name in new))
    write_joint(
        words.EntryKind.JOINT,
        joint,
        f"changed: {said}",
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        before=before,
    )
    return joint


def _checked(fields: Mapping[str, Any], build: Build) -> dict[str, Any]:
    if unknown := sorted(set(fields) - _FIELDS):
        raise BadInput(f"A joint has no {unknown[0]}.", field=unknown[0])
    good = dict(fields)
    for name, most in LINES.items():
        if name in good:
            label = name.replace("_", " ").capitalize()
            read = some_line if name in ("name", "material") else one_line
            good[name] = read(good[name], field=name, label=label, most=most)
    if "metal" in good:
        good["metal"] = _known(words.Metal, good["metal"], "metal", "Metal")
    for name in ("task", "coped_in"):
        task = good.get(name)
        if isinstance(task, Task) and task.build_id not in (None, build.pk):
            raise BadInput(f"{task} is a task of another build.", field=name)
    for name in (*_LENGTHS, "angle_mdeg", "gas_mbar"):
        if good.get(name) is not None:
            label = name.split("_")[0].capitalize()
            number(good[name], field=name, label=label)
    return good


def _refuse_missing(good: Mapping[str, Any]) -> None:
    for name in ("material", *_LENGTHS, "angle_mdeg"):
        if not good.get(name):
            label = name.rsplit("_", 1)[0].replace("_", " ")
            raise BadInput(f"Say its {label}: nothing is written.", field=name)


def _refuse_unfit_geometry(joint: Joint) -> None:
    """Refuse what no two tubes can be; more than a right angle is its supplement."""
    if not 0 < joint.angle_mdeg < 180_000:
        raise BadInput(
            f"Angle: {joint.angle_mdeg / 1000:g}° is not between 0 and 180. Write the "
            "angle between the two tubes' axes.",
            field="angle_mdeg",
        )
    if abs(joint.twist_mdeg) > 180_000:
        raise BadInput(
            f"Twist: {joint.twist_mdeg / 1000:g}° is more than half a turn.",
            field="twist_mdeg",
        )
    if not 0 < 2 * joint.cut_wall_um <= joint.cut_od_um:
        raise BadInput(
            f"Wall: {joint.cut_wall_um / 1000:g} mm does not go into a tube of "
            f"{joint.cut_od_um / 1000:g} mm. A wall is at most the radius.",
            field="cut_wall_um",
        )
    if joint.onto_od_um <= 0:
        raise BadInput("Onto: a tube has a diameter.", field="onto_od_um")


def _known(kind: type[AWord], value: str, field: str, label: str) -> AWord:
    try:
        return kind(value)
    except ValueError:
        known = ", ".join(word.value for word in kind)
        raise BadInput(
            f"{label}: “{str(value)[:20]}” is none of {known}.", field=field
        ) from None


def _column(name: str) -> str:
    return f"{name}_id" if name in ("task", "coped_in") else name


def _stored(value: Any) -> Any:
    return value.pk if isinstance(value, Task) else value
