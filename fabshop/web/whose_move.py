"""Whose move: what to send by when, worked back from the plan, and what a day costs."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from fabshop import clock
from fabshop.reckoning.planning.needs import LineNeed, line_needs
from fabshop.reckoning.tonight import to_send
from fabshop.snapshot import accepted_plans, take
from fabshop.snapshot.kept_plan import (
    by_plan_of,
    kept_plan,
    planned_moments,
)
from fabshop.units import show_day, show_moment
from fabshop.web.gate import signed_in
from fabshop.web.respond import respond


@signed_in
@require_safe
def sends(request: HttpRequest) -> HttpResponse:
    at = clock.now()
    facts = take(at)
    kept = kept_plan(facts)
    planned = planned_moments(facts, kept, accepted_plans(facts).planned)
    needs = line_needs(facts, kept.story, kept.shift) if kept else ()
    mine = to_send(facts, planned=planned, by_plan=by_plan_of(facts, kept))
    context: dict[str, Any] = {
        "now": at,
        "kept": kept,
        "lead": _lead(needs, bool(mine)),
        "mine": [(one, _with_the_plan(one.order, needs)) for one in mine],
        "rows": [(one, _when(one)) for one in needs],
        "decisions": decisions(needs),
    }
    return respond(request, "schedule/sends.html", "", context)


def decisions(needs: tuple[LineNeed, ...]) -> list[str]:
    """What to decide by when, where the late day of a parcel breaks the plan."""
    return [
        f"By {show_day(one.holds_until)}: if {one.order} {one.title} is not here, "
        f"{one.then}"
        for one in needs
        if one.is_late_too_late and one.holds_until is not None
    ]


def _lead(needs: tuple[LineNeed, ...], has_mine: bool) -> str:
    broken = [one for one in needs if one.is_late_too_late]
    if broken:
        first = broken[0]
        return (
            f"{len(broken)} of {len(needs)} parcels would break the plan on their late "
            f"day, {first.order} first."
        )
    if needs:
        return f"The plan waits for {len(needs)} parcels; each may be late."
    return "Something is with you." if has_mine else "Nothing is with you."


def _with_the_plan(order: str, needs: tuple[LineNeed, ...]) -> str:
    """Why the days are those: what the plan needs it for, and by when."""
    mine = [one for one in needs if one.order == order]
    if not mine:
        return ""
    return f"the plan needs it for {mine[0].task} by {show_moment(mine[0].needed_at)}"


def _when(one: LineNeed) -> str:
    likely = show_moment(one.likely_at) if one.likely_at else "nobody knows"
    late = show_moment(one.late_at) if one.late_at else "nobody knows"
    return f"needed {show_moment(one.needed_at)}; likely {likely}, late {late}"
