"""Joints of a build by state with their twins, one set before the arc, one slip."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from fabshop import clock, words
from fabshop.actions.joint.colour import table_of, verdicts_of
from fabshop.actions.joint.over import is_over
from fabshop.actions.joint.prep import prep_now, run_of
from fabshop.actions.joint.state import after_the_weld, is_taken_over, last_call
from fabshop.actions.joint.template import template_seen
from fabshop.errors import ShopError
from fabshop.reckoning.prep import GasFact, Prep, gas_of_set, must_be_ready, ways_on
from fabshop.records.build import Build
from fabshop.records.joint import Joint
from fabshop.records.task import Task
from fabshop.reference.caution import told
from fabshop.snapshot.joint import gas_left_mbar
from fabshop.web.gate import signed_in
from fabshop.web.photo import photos_of
from fabshop.web.respond import Context, refused, respond

ORDER = (
    words.JointState.REWORK,
    words.JointState.WELDED,
    words.JointState.TACKED,
    words.JointState.DRY_FIT,
    words.JointState.COPED,
    words.JointState.PLANNED,
    words.JointState.ACCEPTED,
)
JOINTS = Joint.objects.select_related("build", "task", "coped_in", "twin")
_WELDED = (words.JointState.WELDED, words.JointState.ACCEPTED)


@signed_in
def joint_list(request: HttpRequest, slug: str) -> HttpResponse:
    build = get_object_or_404(Build, slug=slug)
    joints = list(JOINTS.filter(build=build))
    pairs = _pairs(joints)
    groups = []
    for state in ORDER:
        group = [pair for pair in pairs if _leads(pair) == state]
        if group:
            groups.append((state, group))
    counts = [(s, sum(j.state == s for j in joints)) for s in ORDER]
    sets = Task.objects.filter(joints__build=build).distinct()
    context = {
        "now": clock.now(),
        "build": build,
        "joints": joints,
        "groups": groups,
        "counts": [(state, count) for state, count in counts if count],
        "look_again": [joint for joint in joints if joint.inspect_why],
        "sets": sets,
    }
    return respond(request, "joint/list.html", "", context)


@signed_in
def task_joints(request: HttpRequest, code: str) -> HttpResponse:
    """The set that one task welds: the gas for all of it stands first."""
    task = get_object_or_404(Task.objects.select_related("build"), code=code)
    joints = list(JOINTS.filter(task=task))
    coped = list(JOINTS.filter(coped_in=task))
    context = {
        "now": clock.now(),
        "task": task,
        "joints": joints,
        "coped": coped,
        "gas": gas_sentence(joints),
        "left": [joint for joint in joints if joint.state not in _WELDED],
        "cautions": told(["argon", "arc", "grinding"] if joints else []),
    }
    return respond(request, "joint/set.html", "", context)


@signed_in
def joint(request: HttpRequest, code: str) -> HttpResponse:
    found = get_object_or_404(JOINTS, code=code)
    return respond(request, "joint/slip.html", "", slip(found))


def refused_slip(
    request: HttpRequest, found: Joint, error: ShopError, form: str
) -> HttpResponse:
    """The slip again with what was typed, the refusal on top of its own form."""
    found = JOINTS.get(pk=found.pk)
    context = {**slip(found), "at_form": form}
    return refused(request, error, "joint/slip.html", "", context)


def slip(found: Joint) -> Context:
    """All that the slip of one joint shows."""
    now = clock.now()
    prep = prep_now(found, now)
    run = run_of(found)
    template = run.template if run else template_seen(found.metal, now)[0]
    state = words.JointState(found.state)
    following = ways_on(state)
    is_welded = state in _WELDED
    # What the open steps stand before: the tack, until that is made.
    until = words.JointState.ACCEPTED
    if not is_welded:
        is_tacked = state is words.JointState.TACKED
        until = words.JointState.WELDED if is_tacked else words.JointState.TACKED
    elif is_taken_over(found):
        prep = after_the_weld(prep)
    stage = must_be_ready(until) or words.PrepStage.TACK
    calls = list(found.calls.select_related("person").filter(attempt=found.reworks))
    covers = list(found.covers.select_related("task", "component"))
    table = table_of(found.metal)
    siblings = JOINTS.filter(task=found.task) if found.task else JOINTS.none()
    return {
        "now": now,
        "joint": found,
        "state": state,
        "template": template,
        "run": run,
        "prep": prep,
        "stages": _stages(prep, state),
        "open": prep.open_stops(stage),
        "until": until,
        "next": following[0] if following else None,
        "others": following[1:],
        "is_welded": is_welded,
        "call": last_call(found) if is_welded else None,
        "calls": calls,
        "colours": colours(verdicts_of(found.metal, table)),
        "table": table,
        "covers": [(cover, is_over(cover)) for cover in covers],
        "painted": [c.task for c in covers if c.kind == "paints" and is_over(c)],
        "moves": found.moves.select_related("person"),
        "gas": gas_sentence(list(siblings)) if not is_welded else "",
        "dial": f"{90 - found.angle_mdeg / 1000:g}",
        "cautions": told(stand.step.caution for stand in prep.stands),
        "photos": photos_of(joint=found),
        "asks_third": found.reworks >= 2,
    }


def gas_sentence(joints: list[Joint]) -> str:
    """What the joints of a set still to weld take, against the gas on the shelf."""
    gas = [
        GasFact(joint.code, joint.gas_mbar)
        for joint in joints
        if joint.state not in _WELDED
        and (joint.gas_mbar is not None or joint.metal in ("titanium", "stainless"))
    ]
    return gas_of_set(gas, gas_left_mbar()).sentence if gas else ""


def _stages(prep: Prep, state: words.JointState) -> list[dict[str, Any]]:
    """The steps under their stages; those done, passed or later fold away."""
    is_welded = state in _WELDED
    passed = {words.PrepStage.TACK} if is_welded or state == "tacked" else set()
    if is_welded:
        passed.add(words.PrepStage.WELD)
    found = []
    for stage in words.PrepStage:
        stands = [stand for stand in prep.stands if stand.step.stage is stage]
        done = all(stand.is_done for stand in stands)
        is_later = stage is words.PrepStage.LOOK and not is_welded
        if stands:
            folded = done or is_later or stage in passed
            found.append(
                {"stage": stage, "stands": stands, "folded": folded, "done": done}
            )
    return found


def colours(
    rows: dict[words.Colour, words.Verdict],
) -> list[tuple[words.Colour, words.Verdict]]:
    """Every colour of the samples with what it means; a person says the others."""
    return [(one, rows.get(one, words.Verdict.PERSON)) for one in words.Colour]


def _pairs(joints: list[Joint]) -> list[tuple[Joint, Joint | None]]:
    """Each joint beside its twin, the one with the lower code first."""
    by_pk = {joint.pk: joint for joint in joints}
    pairs: list[tuple[Joint, Joint | None]] = []
    for one in joints:
        twin = by_pk.get(one.twin_id) if one.twin_id else None
        if twin is None or one.code < twin.code:
            pairs.append((one, twin))
    return pairs


def _leads(pair: tuple[Joint, Joint | None]) -> words.JointState:
    """The state a pair is listed under: the one that needs eyes most."""
    return min((words.JointState(one.state) for one in pair if one), key=ORDER.index)
