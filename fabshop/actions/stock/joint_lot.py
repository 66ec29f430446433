"""The heat lot follows a cut into the joints that its tube is coped for."""

from __future__ import annotations

from typing import Any

from django.db.models import F

from fabshop import words
from fabshop.records.joint import Joint
from fabshop.records.stock import Cut, CutMark

# A weld is of what it was welded of, whatever is cut afterwards.
_WELDED = (words.JointState.WELDED, words.JointState.ACCEPTED)


def joints_of_mark(mark: CutMark) -> tuple[str, ...]:
    """The joints that the kept list dealt out to this cut."""
    return tuple(
        joint
        for group in mark.cut_list.answer.get("groups", [])
        for bar in group["bars"]
        for cut in bar["cuts"]
        if cut["mark"] == mark.mark
        for joint in cut["joints"]
    )


def follow(cut: Cut) -> dict[str, Any]:
    """Write the cut's lot and mark on its joints; what an undo needs, by joint."""
    if cut.mark is None:
        return {}
    joints = Joint.objects.filter(code__in=joints_of_mark(cut.mark))
    lot = "" if cut.heat_lot == "none" else cut.heat_lot
    before: dict[str, Any] = {}
    for joint in joints.exclude(state__in=_WELDED).select_for_update(no_key=True):
        before[joint.code] = {
            "cut_heat_lot": joint.cut_heat_lot,
            "cut_mark": joint.cut_mark,
            "heat_waived_why": joint.heat_waived_why,
        }
        joint.cut_heat_lot, joint.cut_mark = lot, cut.mark.mark
        if not lot and not joint.heat_waived_why:
            joint.heat_waived_why = cut.waived_why
        joint.version += 1
        joint.save(
            update_fields=["cut_heat_lot", "cut_mark", "heat_waived_why", "version"]
        )
    return before


def give_back(before: dict[str, Any]) -> None:
    """The joints as they were before the cut, those apart that are welded by now."""
    for code, fields in before.items():
        joint = Joint.objects.filter(code=code).exclude(state__in=_WELDED)
        joint.update(**fields, version=F("version") + 1)
