"""Asks for the plan of the whole shop and keeps it as its next edition."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import datetime
from typing import Any

from django.db import transaction

from fabshop import words, worker
from fabshop.actions.log import write_entry
from fabshop.actions.plan.accept import edition_letter
from fabshop.actions.plan.ask import steps_left
from fabshop.actions.shop import require
from fabshop.errors import BadInput, ShopError
from fabshop.reckoning.batching import default_tasks
from fabshop.reckoning.facts import Besides, Facts
from fabshop.reckoning.planning import Teardown
from fabshop.reckoning.planning.change import change_sentence
from fabshop.reckoning.planning.doubt import sure_question
from fabshop.records.plan import Plan
from fabshop.records.schedule import ShopPlan
from fabshop.records.shop import Person, Shop
from fabshop.snapshot import digest, plan_clock, take
from fabshop.snapshot.schedule import besides, stands_on

SOLVER_S = 6.0
QUICK_S = 4.0
GRACE_S = 30.0
"""Ordering the teardowns, starting the solver, and reading the answer."""
BUSY = 15
"""The work is counted, not timed: so many times slower may a machine be."""
SURE_RUNS = 2000


def ask_plan(
    *, by: Person, now: datetime, why: str = "", quick: bool = False
) -> ShopPlan:
    """Reckon the plan, on likely and on late days, and keep it as the current one.

    `quick` keeps near to the plan before, for a choice that is to show at once. The
    solver runs outside the transaction, so that nobody's tap waits for it.
    """
    require(by, "write")
    facts, clock = take(now), plan_clock(now)
    beside = besides(facts, now)
    refuse_nothing_to_plan(facts)
    teardowns = teardowns_of(facts)
    last = ShopPlan.objects.kept().first()
    told = (facts, beside, teardowns)
    with ThreadPoolExecutor(max_workers=2) as pool:
        on_time = pool.submit(reckoned, *told, late=False, quick=quick, last=last)
        on_late = pool.submit(reckoned, *told, late=True, quick=quick, last=last)
        likely, late = on_time.result(), on_late.result()
    sure = _sure(facts, likely, late)
    for one in likely["beside"]["instead"]:
        # Only for the chances; a whole plan more is not kept.
        one.pop("question", None)
        one.pop("answer", None)
    with transaction.atomic():
        # Two that ask at once wait for each other here.
        Shop.objects.select_for_update().first()
        entry = write_entry(
            kind=words.EntryKind.PLANNED,
            by=by,
            now=now,
            text=f"The plan: {likely['answer']['points']} points"
            + (f", {why}" if why else ""),
        )
        ShopPlan.objects.kept().update(is_current=False)
        return ShopPlan.objects.create(
            edition=edition_letter(ShopPlan.objects.count()),
            why=why[:200],
            change=change_sentence(_story(last), likely, facts)[:600] if last else "",
            question=likely["question"],
            answer=likely["answer"],
            late_question=late["question"],
            late_answer=late["answer"],
            beside=likely["beside"] | {"late": late["beside"]},
            sure=sure,
            utc_offset_minutes=clock.offset_minutes,
            digest=digest(facts),
            stands_on=stands_on(facts),
            entries=facts.entries,
            made_by=by,
            made_at=entry.server_at,
        )


def refuse_nothing_to_plan(facts: Facts) -> None:
    if not any(not task.is_finished for task in facts.tasks):
        raise BadInput("No task is open: there is nothing to plan.", field="tasks")
    if not facts.windows:
        day = f"{facts.now:%a} {facts.now.day} {facts.now:%b}"
        raise BadInput(
            f"No hours are entered after {day}. Enter them under Hours.", field="hours"
        )


def teardowns_of(facts: Facts) -> list[Teardown]:
    """The teardown of each build: as it was accepted, else its planned tasks."""
    accepted = {
        plan.build.slug: plan
        for plan in Plan.objects.accepted().select_related("build")
    }
    found = []
    for build in facts.builds:
        if build.pack_out is None or build.pack_out <= facts.now:
            continue
        plan = accepted.get(build.id)
        if plan is not None:
            found.append(
                Teardown(
                    build.id,
                    tuple(plan.asked["tasks"]),
                    plan.asked["wait_for"],
                    plan.asked["max_sessions"],
                    plan.asked["prefer"],
                    steps_left(plan),
                    plan.edition,
                )
            )
        elif default_tasks(facts, build.id):
            found.append(Teardown(build.id))
    return found


def reckoned(
    facts: Facts,
    beside: Besides,
    teardowns: list[Teardown],
    *,
    late: bool,
    quick: bool = False,
    last: ShopPlan | None = None,
) -> dict[str, Any]:
    """The plan worked out in a process of its own."""
    kept = (last.late_answer if late else last.answer) if last is not None else None
    limit_s = QUICK_S if quick and not late else SOLVER_S
    plan: dict[str, Any] = worker.run(
        "fabshop.reckoning.rough",
        "shop_plan",
        facts,
        beside,
        teardowns,
        late=late,
        time_limit_s=limit_s,
        kept=kept,
        quick=quick and last is not None,
        limit_s=BUSY * limit_s + GRACE_S,
    )
    return plan


def _sure(
    facts: Facts, likely: dict[str, Any], late: dict[str, Any]
) -> dict[str, Any] | None:
    """The chances; a plan is kept without them where they cannot be reckoned."""
    try:
        sure: dict[str, Any] = worker.run(
            "fabshop.reckoning.sure",
            "sure",
            sure_question(facts, likely, late, runs=SURE_RUNS),
            limit_s=GRACE_S,
        )
    except ShopError:
        return None
    return sure


def _story(plan: ShopPlan | None) -> dict[str, Any]:
    if plan is None:
        return {}
    return {"question": plan.question, "answer": plan.answer, "beside": plan.beside}
