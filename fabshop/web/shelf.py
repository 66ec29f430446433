"""Shelf life and hardware: what goes off, what to order, which screws are wanted."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.db.models import Prefetch
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from fabshop import clock, words
from fabshop.errors import NotFound
from fabshop.reckoning.facts import ComponentFact, Facts
from fabshop.reckoning.shelf import (
    Hardware,
    Stand,
    comes_off,
    hardware,
    last_good_day,
    planned_days,
    stands,
    to_order,
)
from fabshop.records.order import Receipt
from fabshop.records.plan import Plan
from fabshop.records.shelf import Consumable, ShelfMove, Tray
from fabshop.reference.caution import told as cautions_told
from fabshop.snapshot import accepted_plans, take
from fabshop.snapshot.shelf import consumable_facts, shelf_stands, tray_facts
from fabshop.web.gate import signed_in
from fabshop.web.respond import Context, respond

MOST_MOVES = 50


@signed_in
def shelf(request: HttpRequest) -> HttpResponse:
    """What goes off before it is used, what to order today, what nobody knows."""
    facts = take(clock.now())
    found = shelf_stands(facts)
    orders = to_order(found, facts.now.date())
    bad = [one for one in found if one.sentence]
    context = {
        "now": clock.now(),
        "stands": found,
        "bad": bad,
        "today": [one for one in orders if one.is_for_today],
        "later": [one for one in orders if not one.is_for_today],
        "unknown": [one for one in found if one.has_dates_unknown],
        "unsaid": [one for one in found if one.unsaid],
        "fine": [one for one in found if one not in bad],
        "going": _going_off(found),
    }
    return respond(request, "shelf/shelf.html", "", context)


@signed_in
def thing(request: HttpRequest, code: str) -> HttpResponse:
    return respond(request, "shelf/thing.html", "", thing_context(code))


@signed_in
def hardware_page(request: HttpRequest) -> HttpResponse:
    """The trays, and for each build what its teardown disturbs of them."""
    facts = take(clock.now())
    trays = tray_facts()
    accepted = Plan.objects.accepted().filter(kind="teardown").select_related("build")
    plans = {plan.build.slug: plan for plan in accepted}
    rows = []
    for build in facts.builds:
        plan = plans.get(build.id)
        # By the accepted teardown, else what all its tasks together want off.
        parts = removed(facts, plan) if plan else comes_off(facts, build.id)
        if parts:
            rows.append((build, hardware(parts, trays), plan))
    context = {
        "now": clock.now(),
        "trays": trays,
        "wrong": [tray for tray in trays if tray.left_milli < 0],
        "builds": rows,
        "missing": [(build, row) for build, found, _ in rows for row in found.missing],
    }
    return respond(request, "shelf/hardware.html", "", context)


def thing_context(code: str) -> Context:
    """What the page of one consumable or tray shows, in a fixed number of queries."""
    consumable = Consumable.objects.filter(code=code).with_left().first()
    if consumable is None:
        return _tray_context(code)
    facts = take(clock.now())
    days = planned_days(facts, accepted_plans(facts).planned)
    (fact,) = consumable_facts(Consumable.objects.filter(pk=consumable.pk))
    (stand,) = stands([fact], facts, days)
    return {
        **_moved(consumable),
        "thing": consumable,
        "unit": consumable.unit,
        "stand": stand,
        "fact": fact,
        "keeps": stand.keeps,
        "last_good_on": last_good_day(fact),
        "orders": to_order([stand], facts.now.date()),
        "cautions": cautions_told([consumable.hazard] if consumable.hazard else []),
        "use_tasks": [("", "no task")]
        + [(use.task, f"{use.task} {use.title}") for use in stand.uses],
        "waivers": consumable.waivers.filter(is_taken_back=False).select_related(
            "task", "person"
        ),
    }


def _tray_context(code: str) -> Context:
    tray = get_object_or_404(Tray.objects.with_left(), code=code)
    return {**_moved(tray), "thing": tray, "unit": "", "tray": tray}


def _moved(of: Any) -> Context:
    moves = ShelfMove.objects.select_related("person", "task", "component")
    mine = {"tray" if isinstance(of, Tray) else "consumable": of}
    receipts = Receipt.objects.exclude(accepted_milli=0).select_related("person")
    return {
        "now": clock.now(),
        "left_milli": int(of.left_milli),
        "moves": moves.filter(**mine).order_by("-at", "-id")[:MOST_MOVES],
        "supplies": of.supplies.select_related(
            "line__order__supplier"
        ).prefetch_related(Prefetch("line__receipts", receipts)),
    }


def _going_off(found: Iterable[Stand]) -> list[Stand]:
    """What somebody uses and what has a last good day, the first day first."""
    dated = [one for one in found if one.last_good_on and one.uses]
    return sorted(dated, key=lambda one: (one.last_good_on, one.thing.id))


def removed(facts: Facts, plan: Plan) -> tuple[ComponentFact, ...]:
    """The parts that a plan takes off, in its order."""
    return tuple(
        facts.component_by_id[step["id"]]
        for session in plan.answer.get("sessions", ())
        for step in session["steps"]
        if step["do"] == words.StepDo.REMOVE and step["id"] in facts.component_by_id
    )


def hardware_of(facts: Facts, plan: Plan) -> Hardware:
    """What a plan disturbs, against the trays."""
    return hardware(removed(facts, plan), tray_facts())


def found_thing(code: str) -> Consumable | Tray:
    """The consumable or the tray of this code; one code is one thing."""
    found = Consumable.objects.filter(code=code).first()
    tray = found or Tray.objects.filter(code=code).first()
    if tray is None:
        raise NotFound(f"Nothing on the shelf is called {code}.")
    return tray
