"""A tube frame on the phone: its picture, its tubes in sentences, and each tube."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect

from fabshop import clock
from fabshop.actions.frame import add_frame
from fabshop.errors import ShopError
from fabshop.reckoning.frame import (
    EndReckoned,
    FrameFacts,
    FrameReckoned,
    TubeReckoned,
    mirror_faults,
    reckon_frame,
)
from fabshop.records.build import Build
from fabshop.records.frame import Frame
from fabshop.snapshot.frame import frame_facts
from fabshop.web.frame_picture import frame_picture
from fabshop.web.gate import signed_in
from fabshop.web.respond import refused, respond
from fabshop.web.tap import said
from fabshop.web.typed import Typed

FRAMES = Frame.objects.select_related("build")


@signed_in
def frame_list(request: HttpRequest, slug: str) -> HttpResponse:
    """The frames of a build, and a form that begins another."""
    build = get_object_or_404(Build, slug=slug)
    context = {
        "now": clock.now(),
        "build": build,
        "frames": list(build.frames.all()),
    }
    if request.method != "POST":
        return respond(request, "frame/list.html", "", context)
    try:
        form = Typed(request)
        code = form.needed("code", "Code", most=40)
        name = form.needed("name", "Name", most=120)
        form.refuse_if_wrong()
        made = add_frame(build=build, code=code, name=name, **said(request))
    except ShopError as error:
        return refused(request, error, "frame/list.html", "", context)
    return redirect("frame", made.code)


@signed_in
def frame(request: HttpRequest, code: str) -> HttpResponse:
    record = get_object_or_404(FRAMES, code=code)
    facts = frame_facts(record)
    reckoned = reckon_frame(facts)
    context = {
        "now": clock.now(),
        "frame": record,
        "build": record.build,
        "nodes": sorted(facts.nodes.items()),
        "tubes": [tube_said(tube) for tube in reckoned.tubes],
        "sections": reckoned.sections,
        "mass": reckoned.mass_g,
        "centre": reckoned.centre,
        "unknown": reckoned.unknown,
        "told": list(dict.fromkeys(n for t in reckoned.tubes for n in t.said)),
        "twins": twin_faults(facts, reckoned),
        "picture": frame_picture(facts.nodes, reckoned),
    }
    return respond(request, "frame/detail.html", "", context)


@signed_in
def tube(request: HttpRequest, code: str, mark: str) -> HttpResponse:
    return respond(request, "frame/tube.html", "", tube_context(code, mark))


def tube_context(code: str, mark: str) -> dict[str, Any]:
    """What the page of one tube shows."""
    record = get_object_or_404(FRAMES, code=code)
    facts = frame_facts(record)
    if mark not in facts.tube_by_mark:
        raise Http404
    reckoned = reckon_frame(facts)
    made = reckoned.tube(mark)
    twin = made.fact.twin
    faults: tuple[str, ...] = ()
    if twin:
        faults = mirror_faults(facts, made, reckoned.tube(twin))
    return {
        "now": clock.now(),
        "frame": record,
        "build": record.build,
        "tube": made,
        "said": tube_said(made),
        "ends": [_end(end) for end in made.ends],
        "arcs": made.axis.arcs if made.axis else (),
        "twin": reckoned.tube(twin) if twin else None,
        "faults": faults,
        "is_coped": any(end.cope for end in made.ends),
        "picture": frame_picture(facts.nodes, reckoned),
        "landing": [
            other.fact.mark
            for other in reckoned.tubes
            if any(end.fact.onto == mark for end in other.ends)
        ],
    }


def tube_said(made: TubeReckoned) -> dict[str, Any]:
    """A tube in one sentence, and the figures of its row."""
    fact = made.fact
    ends = []
    for end in made.ends:
        if end.landed and end.cope:
            ends.append(f"{end.landed.angle_deg:.1f}° onto {end.fact.onto}")
        elif end.why_not:
            ends.append("not computed")
        else:
            ends.append("square")
    return {
        "mark": fact.mark,
        "section": fact.section,
        "way": " to ".join((fact.start, fact.end)),
        "cut": made.cut_mm,
        "ends": ends,
        "twist": made.twist_deg,
        "mass": made.mass_g,
        "is_told": bool(made.said),
    }


def twin_faults(facts: FrameFacts, reckoned: FrameReckoned) -> list[str]:
    """Where twins of the frame are not each other's mirror; each pair once."""
    found: list[str] = []
    for made in reckoned.tubes:
        twin = made.fact.twin
        if twin and made.fact.mark < twin:
            found += mirror_faults(facts, made, reckoned.tube(twin))
    return found


def _end(end: EndReckoned) -> dict[str, Any]:
    landed = end.landed if end.cope else None
    return {
        "node": end.node,
        "onto": end.fact.onto,
        "joint": end.fact.joint,
        "angle": landed.angle_deg if landed else None,
        "dial": landed.dial_deg if landed else None,
        "offset": landed.offset_mm if landed else 0.0,
        "cope": end.cope,
        "acute_to": end.acute_to,
        "past": end.past_mm,
        "why_not": end.why_not,
    }
