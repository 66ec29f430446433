"""Why a task stands where it does in the plan: what it waits for, and until when."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_safe

from fabshop import clock
from fabshop.reckoning.planning.question import CURED
from fabshop.reckoning.planning.story import Row
from fabshop.records.task import Task
from fabshop.snapshot import take
from fabshop.snapshot.kept_plan import KeptPlan, kept_plan
from fabshop.units import show_minutes, show_moment
from fabshop.web.gate import signed_in
from fabshop.web.respond import respond


@signed_in
@require_safe
def schedule_why(request: HttpRequest, code: str) -> HttpResponse:
    task = get_object_or_404(Task, code=code)
    kept = kept_plan(take(clock.now()))
    context: dict[str, Any] = {"now": clock.now(), "task": task, "kept": kept}
    if kept is not None:
        rows = [row for row in kept.story.rows if row.task == code]
        context |= {"rows": [_told(row, kept) for row in rows]}
        context["why_not"] = "" if rows else _left_out(code, kept)
    return respond(request, "schedule/why.html", "", context)


def _told(row: Row, kept: KeptPlan) -> dict[str, Any]:
    story = kept.story
    way = next(
        w for w in story.asked[row.id]["ways"] if w["id"] == story.done[row.id]["way"]
    )
    links = [*story.asked[row.id].get("after", ()), *way.get("after", ())]
    waits = [_wait(link, kept) for link in links if link["id"] in story.done]
    latest = story.latest_start_of(row)
    spare = story.bench.minutes_until(latest) - story.bench.minutes_until(row.start)
    return {
        "row": row,
        "start": kept.now_at(row.start),
        "finish": kept.now_at(row.finish),
        "latest": kept.now_at(latest),
        "spare": show_minutes(max(0, spare)),
        "waits": sorted(waits, key=lambda one: one["at"], reverse=True),
        "minutes": row.minutes,
        "takes": [
            f"{amount:g} of {name}"
            for name, amount in way.get("takes", {}).items()
            if not name.startswith("turn on ")
        ],
    }


def _wait(link: dict[str, Any], kept: KeptPlan) -> dict[str, Any]:
    name = link["id"]
    row = kept.story.done[name]
    at = kept.now_at(datetime.fromisoformat(row["finish"]))
    lines = kept.story.beside["lines"]
    if name in lines:
        order = lines[name]["order"]
        return {
            "page": f"/orders/{order}/",
            "says": f"{order} {lines[name]['title']}, here {show_moment(at)}",
            "at": at,
        }
    if name in kept.story.beside["blocks"]:
        did = kept.story.beside["blocks"][name]
        does = "off" if did["do"] == "remove" else "back on"
        parts = " ".join(did["ids"])
        return {
            "page": "",
            "says": f"{parts} {does}, {show_moment(at)}",
            "at": at,
        }
    code = name.removesuffix(CURED).partition("#")[0]
    title = kept.story.beside["tasks"].get(code, {}).get("title", "")
    does = "cured" if name.endswith(CURED) else "done"
    return {
        "page": f"/plan/{code}/",
        "says": f"{code} {title}, {does} {show_moment(at)}",
        "at": at,
    }


def _left_out(code: str, kept: KeptPlan) -> str:
    never = kept.story.beside.get("never", {}).get(code)
    why = {r["activity"]: r["why"] for r in kept.story.answer.get("left_out", ())}
    return never or why.get(code, "")
