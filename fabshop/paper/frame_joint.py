"""Cope templates from what is kept of the joints, both ends of a tube by its mark."""

from __future__ import annotations

from django.shortcuts import get_object_or_404

from fabshop import words
from fabshop.errors import BadInput
from fabshop.paper.frame import (
    Named,
    cope_sheet,
    copes_of_frames,
    part,
    print_fit,
    sheet_of,
)
from fabshop.paper.sheet import Sheet
from fabshop.reckoning.frame.angle import angle_typed
from fabshop.reckoning.wrap import CopeEnd, Template
from fabshop.records.build import Build
from fabshop.records.joint import Joint
from fabshop.records.stock import CutWish

_TO_COPE = (words.JointState.PLANNED, words.JointState.REWORK)


def joint_template(code: str, **typed: str) -> Sheet:
    """The template of a joint's cut tube; of both its ends where two bear its mark."""
    joint = get_object_or_404(Joint.objects.select_related("build"), code=code)
    joints = ends_of_tube(joint)
    template, notes = joint_cope(joints)
    names = " and ".join(one.code for one in joints)
    named = Named(
        f"Cope template: {names} {joint.name}",
        joint.build.name,
        f"/joints/{joint.code}/",
        f"COPE {joint.code}",
        f"cope-{joint.code}",
    )
    return cope_sheet(template, named, typed, notes=notes)


def ends_of_tube(joint: Joint) -> list[Joint]:
    """Both joints of the tube that `joint` is an end of, or itself alone.

    A mark that is cut several times, or that more than two joints bear, is of several
    tubes alike, and tells no pair.
    """
    several = CutWish.objects.filter(code=joint.cut_mark, quantity__gt=1)
    if not joint.cut_mark or several.exists():
        return [joint]
    marked = Joint.objects.filter(build=joint.build, cut_mark=joint.cut_mark)
    both = list(marked.select_related("build").order_by("code")[:3])
    return both if len(both) == 2 else [joint]


def joint_cope(joints: list[Joint]) -> tuple[Template, list[str]]:
    """The template of one tube from the joints at its ends, and what to say of it."""
    first = joints[0]
    notes: list[str] = []
    ends = []
    for joint in joints:
        if (joint.cut_od_um, joint.cut_wall_um) != (first.cut_od_um, first.cut_wall_um):
            raise BadInput(
                f"{first.code} and {joint.code} bear the mark {joint.cut_mark}, but "
                "are of two sections."
            )
        read = angle_typed(joint.angle_mdeg / 1000)
        notes += [f"{joint.code}: {note}" for note in read.notes]
        reach_um = abs(joint.offset_um) + joint.cut_od_um / 2
        if reach_um > joint.onto_od_um / 2:
            over = (reach_um - joint.onto_od_um / 2) / 1000
            raise BadInput(
                f"{joint.code} wraps past the mate by {over:.2f} mm: no template. "
                "The joint is kept as it is."
            )
        ends.append(
            CopeEnd(
                joint.onto_od_um / 1000,
                read.angle_deg,
                joint.offset_um / 1000,
                joint=joint.code,
                node=joint.name,
            )
        )
    twist, note = _twist(joints)
    if note:
        notes.append(note)
    od, wall = first.cut_od_um / 1000, first.cut_wall_um / 1000
    return Template(od, wall, tuple(ends), twist), notes


def copes_of_build(slug: str) -> Sheet | None:
    """Every template that a build still needs, as one sheet; None where it has none."""
    build = Build.objects.filter(slug=slug).first()
    if build is None:
        return None
    fit, paper = print_fit({})
    parts = copes_of_frames(build, fit, paper)
    done: set[int] = set()
    left_out: list[str] = []
    for joint in Joint.objects.filter(build=build, state__in=_TO_COPE):
        if joint.pk in done:
            continue
        joints = ends_of_tube(joint)
        done |= {one.pk for one in joints}
        try:
            made, notes = joint_cope(joints)
            template = Template(
                made.od_mm, made.wall_mm, made.ends, made.twist_deg, paper
            )
            names = " and ".join(one.code for one in joints)
            parts.append(part(f"Cope template: {names}", template, fit, notes, None))
        except BadInput as error:
            left_out.append(f"Not on these sheets: {error.message}")
    if not parts:
        return None
    parts[0]["notes"] = [*parts[0]["notes"], *left_out]
    named = Named("Cope templates", build.name, f"/builds/{slug}/", "COPES", "")
    return sheet_of(parts, named, fit, f"{slug}-copes")


def _twist(joints: list[Joint]) -> tuple[float, str]:
    """The tube's twist: the same at both ends, or said at one of them alone."""
    said = {joint.code: joint.twist_mdeg / 1000 for joint in joints}
    other = {twist for twist in said.values() if twist}
    if len(joints) == 1 and other:
        code, twist = next(iter(said.items()))
        return twist, (
            f"{code} twists by {twist:+g}° against the cope at the tube's other end, "
            "which is not on this sheet: both bear one mark where they are one tube."
        )
    if len(other) < 2:
        return next(iter(other), 0.0), ""
    told = " and ".join(f"{code} {twist:g}°" for code, twist in said.items())
    first = next(iter(said.values()))
    return first, (
        f"The ends say two twists, {told}; a tube has one. Drawn with {first:g}°."
    )
