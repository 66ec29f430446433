"""The cut list on paper: by material, then piece, each cut from the square end."""

from __future__ import annotations

from typing import Any

from django.shortcuts import get_object_or_404

from fabshop.clock import now
from fabshop.paper.sheet import Sheet, entries_so_far
from fabshop.records.joint import Joint
from fabshop.records.stock import Cut, CutList
from fabshop.snapshot import plan_clock
from fabshop.units import show_length

Row = dict[str, Any]


def cut_sheet(number: int) -> Sheet:
    """The list as it was answered, with boxes to tick; what is cut already says so."""
    made = get_object_or_404(CutList.objects.select_related("person"), number=number)
    moment = now()
    cuts = Cut.objects.filter(mark__cut_list=made, is_taken_back=False)
    waived = {
        cut.mark.mark: cut.waived_why for cut in cuts.select_related("mark") if cut.mark
    }
    groups = made.answer["groups"]
    sheets = made.answer.get("sheet_groups", [])
    ends = _ends(groups)
    return Sheet(
        name="cuts",
        title="Cut list",
        template="paper/stock/cuts.html",
        path=f"/cuts/{made.number}/",
        code=f"CUTS {made.number}",
        filename=f"cuts-{made.number}",
        subject=f"List {made.number}",
        made_at=moment,
        offset_minutes=plan_clock(moment).offset_minutes,
        edition=str(made.number),
        entries=entries_so_far(),
        context={
            "made_list": made,
            "kerf": show_length(made.kerf_um),
            "dressing": show_length(made.dressing_um),
            "groups": [_group(group, ends, waived) for group in groups],
            "sheet_groups": sheets,
            "cut_count": sum(len(b["cuts"]) for g in groups for b in g["bars"])
            + sum(len(s["blanks"]) for g in sheets for s in g["sheets"]),
        },
    )


def _group(group: Row, ends: dict[str, str], waived: dict[str, str]) -> Row:
    return {
        **group,
        "bars": [
            {
                **bar,
                "before": show_length(bar["before_um"]),
                "left": show_length(bar["left_um"]),
                "cuts": [
                    {
                        **cut,
                        "part": show_length(cut["part_um"]),
                        "finished": show_length(cut["finished_um"]),
                        "left": show_length(cut["left_um"]),
                        "ends": [ends[j] for j in cut["joints"] if j in ends],
                        "other_joints": [j for j in cut["joints"] if j not in ends],
                        "is_cut": cut["mark"] in waived,
                        "waived": waived.get(cut["mark"], ""),
                    }
                    for cut in bar["cuts"]
                ],
            }
            for bar in group["bars"]
        ],
    }


def _ends(groups: list[Row]) -> dict[str, str]:
    """What is coped at each joint: both the angle between and what the dial reads."""
    names = {
        joint
        for group in groups
        for bar in group["bars"]
        for cut in bar["cuts"]
        for joint in cut["joints"]
    }
    return {
        joint.code: _end(joint)
        for joint in Joint.objects.filter(code__in=sorted(names))
    }


def _end(joint: Joint) -> str:
    angle = joint.angle_mdeg / 1000
    said = f"{joint.code}: {angle:.1f}°, dial {90 - angle:.1f}"
    if joint.offset_um:
        said += f", off {show_length(joint.offset_um)}"
    if joint.twist_mdeg:
        said += f", twist {joint.twist_mdeg / 1000:g}°"
    return said
