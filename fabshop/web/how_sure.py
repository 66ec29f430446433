"""How sure the plan is: chances in words, the band of hours, and what is in doubt."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from fabshop import clock
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.planning.band import picture
from fabshop.reckoning.planning.telling import late_words, of_hundred
from fabshop.snapshot import take
from fabshop.snapshot.kept_plan import KeptPlan, kept_plan
from fabshop.units import show_minutes, show_moment
from fabshop.web.gate import signed_in
from fabshop.web.respond import respond


@signed_in
@require_safe
def how_sure(request: HttpRequest) -> HttpResponse:
    at = clock.now()
    facts = take(at)
    kept = kept_plan(facts)
    context: dict[str, Any] = {"now": at, "kept": kept}
    if kept is not None and kept.plan.sure:
        context |= sure_words(kept, facts)
    return respond(request, "schedule/how_sure.html", "", context)


def sure_words(kept: KeptPlan, facts: Facts) -> dict[str, Any]:
    sure = kept.plan.sure
    first = sure["plans"][0]
    tasks = kept.story.beside["tasks"]
    chances = {row["id"]: row["chance"] for row in first["activities"]}
    goals = [
        (name, tasks[name]["title"], of_hundred(chances[name]), chances[name])
        for name in tasks
        if name in chances and (tasks[name]["required"] or _has_points(tasks[name]))
    ]
    hand = first["in_hand"]
    return {
        "chance": of_hundred(first["chance"]),
        "in_hand": [
            (label, _hand(hand[part]))
            for part, label in (
                ("p10", "in one run of ten, less than"),
                ("p50", "half the runs, at least"),
                ("p90", "in one run of ten, more than"),
            )
        ]
        if hand
        else [],
        "runs": sure["runs"],
        "goals": sorted(goals, key=lambda row: (row[3], row[0]))[:12],
        "doubts": [_doubt(one, kept, facts) for one in sure["doubts"]],
        "others": [
            (one["id"], of_hundred(one["chance"]))
            for one in sure["plans"][1:]
            if one["id"] == "late"
        ],
        "late": late_words(kept.late),
        "band": picture(sure["band"]),
        "rows": [row | {"day": kept_day(row["at"])} for row in sure["band"]],
        "instead": _instead(kept),
    }


def kept_day(text: str) -> str:
    return f"{text[8:10]}.{text[5:7]}."


def _hand(minutes: int) -> str:
    if minutes >= 0:
        return show_minutes(minutes)
    return f"{show_minutes(-minutes)} too late"


def _has_points(task: dict[str, Any]) -> bool:
    return any(way["points"] for way in task["ways"].values())


def _doubt(one: dict[str, Any], kept: KeptPlan, facts: Facts) -> tuple[str, str, str]:
    """What is in doubt, where it leads, and what it costs."""
    if one["kind"] == "arrival":
        order = one["id"].partition("/")[0]
        known = facts.order_by_id.get(order)
        name, page = f"{order} {known.title if known else ''}", f"/orders/{order}/"
    else:
        code = (one["activity"] or "").partition("#")[0]
        title = kept.story.beside["tasks"].get(code, {}).get("title", one["id"])
        name, page = f"{code} {title}", f"/tasks/{code}/"
    costs = []
    if one["minutes"] > 0:
        costs.append(f"{show_minutes(one['minutes'])} on the mean")
    points = round(100 * one["chance"])
    if points > 0:
        costs.append(f"{points} in 100 of the chance")
    return name, page, " and ".join(costs) or "next to nothing"


def _instead(kept: KeptPlan) -> list[str]:
    """The teardown with and without the part that comes last."""
    found = []
    plans = (kept.plan.sure or {}).get("plans", ())
    chances = {one["id"]: of_hundred(one["chance"]) for one in plans}
    for one in kept.story.beside.get("instead", ()):
        chance = chances.get(f"instead {one['line']}")
        sure = f", and that holds in {chance}" if chance else ""
        from_line = one["line"].partition("/")[0]
        if one.get("finish") is None:
            continue
        at = show_moment(kept.now_at(datetime.fromisoformat(one["finish"])))
        if one.get("taken"):
            found.append(
                f"The plan does not wait for {from_line}; waiting for it, all is done "
                f"{at} with {one['points']} points{sure}."
            )
        else:
            found.append(
                f"Without waiting for {from_line}, {one['task']} by Plan B, all is "
                f"done {at} with {one['points']} points{sure}."
            )
    return found
