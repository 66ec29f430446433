"""The Chalk wall: an idea is one line, until it is weighed and taken up as a task."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from django.db import transaction

from fabshop import words
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.order import add_order
from fabshop.actions.schedule.ask import reckoned, teardowns_of
from fabshop.actions.shop import require
from fabshop.actions.task import add_task
from fabshop.actions.typed import code as fit_code
from fabshop.actions.typed import kept_text, number, some_line
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.reckoning.facts import Facts, LineFact, NeedFact, OrderFact, TaskFact
from fabshop.reckoning.planning.change import change_sentence, story_of
from fabshop.records.build import Build
from fabshop.records.idea import Idea
from fabshop.records.log import LogEntry
from fabshop.records.order import Supplier
from fabshop.records.schedule import ShopPlan
from fabshop.records.shop import Person
from fabshop.records.task import Task
from fabshop.snapshot import take
from fabshop.snapshot.schedule import besides
from fabshop.units import show_moment

MOST_MINUTES = 100_000
MOST_DAYS = 3650


@dataclass(frozen=True)
class Wanted:
    """What promoting an idea asks: hours, points, and the days a part takes, if any."""

    code: str
    title: str
    minutes: int
    points: int = 0
    lead_days: int = 0
    family: str = "other"


def idea_of(entry: LogEntry) -> Idea:
    """The idea that a line of the log put on the wall."""
    return Idea.objects.get(client_id=entry.client_id)


@once(words.EntryKind.IDEA, first=idea_of)
def add_idea(
    *,
    by: Person,
    text: str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    build: Build | None = None,
) -> Idea:
    """Put a line on the wall. No plan moves, and nothing else is asked."""
    require(by, "write")
    kept, _ = kept_text(text)
    if not kept.strip():
        raise BadInput("Nothing is written yet.", field="text")
    entry = write_entry(
        kind=words.EntryKind.IDEA,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        build=build,
        text=kept,
    )
    return Idea.objects.create(
        text=kept,
        person=by,
        build=build,
        at=at or now,
        client_id=entry.client_id,
    )


@transaction.atomic
def wipe_idea(*, by: Person, idea: Idea, now: datetime) -> Idea:
    """Wipe an idea off the wall; it stays kept. One's own, or the owner anybody's."""
    require(by, "write")
    idea = _locked(idea)
    if idea.person_id != by.pk and not by.is_owner:
        raise NotAllowed(f"That idea is {idea.person}'s; only they or the owner can.")
    idea.wiped_at = now
    idea.save(update_fields=["wiped_at"])
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        build=idea.build,
        text=f"Wiped off the wall: {idea.text[:120]}",
    )
    return idea


def weigh_idea(*, by: Person, idea: Idea, wanted: Wanted, now: datetime) -> str:
    """What the idea would displace if it had to be had; nothing is written.

    The plan is reckoned once more with it in, near to the plan that is kept.
    """
    require(by, "write")
    _checked(wanted)
    last = ShopPlan.objects.kept().first()
    if last is None:
        raise BadInput(
            "There is no plan yet to hold it against. Ask for the plan first.",
            field="plan",
        )
    facts = _with_idea(take(now), idea, wanted)
    plan = reckoned(
        facts,
        besides(facts, now),
        teardowns_of(facts),
        late=False,
        quick=True,
        last=last,
    )
    was = {"question": last.question, "answer": last.answer, "beside": last.beside}
    told = change_sentence(was, plan, facts)
    way = story_of(plan).way_of.get(wanted.code, "")
    if not way or way == "left":
        return f"It cannot be done by pack-out, whatever is given up. {told}".strip()
    return f"It can be had: {told}" if told else "It can be had and displaces nothing."


@once(words.EntryKind.CHANGED, first=lambda entry: Idea.objects.get(task=entry.task))
def promote_idea(
    *,
    by: Person,
    idea: Idea,
    wanted: Wanted,
    now: datetime,
    supplier: Supplier | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Idea:
    """Take an idea up: a task, and where a part takes days, an order not sent yet."""
    require(by, "own")
    _checked(wanted)
    idea = _locked(idea)
    if Task.objects.filter(code=wanted.code).exists():
        raise Clash(f"There is a task {wanted.code} already.", field="code")
    if wanted.lead_days and supplier is None:
        raise BadInput(
            "Who makes the part? Choose a supplier, or say 0 days.", field="supplier"
        )
    needs = []
    if wanted.lead_days and supplier is not None:
        order = add_order(
            by=by,
            now=now,
            code=f"P-{wanted.code}",
            supplier=supplier,
            title=wanted.title,
            kind=words.OrderKind.BOUGHT,
            build=idea.build,
            lines=[{"title": wanted.title, "quantity_milli": 1000}],
            lead=(wanted.lead_days, wanted.lead_days, wanted.lead_days),
        )
        needs = [{"kind": "order", "line": f"{order.code}/1"}]
    idea.task = add_task(
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        code=wanted.code,
        title=wanted.title,
        build=idea.build,
        family=wanted.family,
        minutes=wanted.minutes,
        points=wanted.points,
        is_required=False,
        needs=needs,
    )
    idea.save(update_fields=["task"])
    return idea


def _with_idea(facts: Facts, idea: Idea, wanted: Wanted) -> Facts:
    """The facts with the idea in them as a task that must be had."""
    line = f"P-{wanted.code}/1"
    task = TaskFact(
        id=wanted.code,
        build=idea.build.slug if idea.build else "",
        title=wanted.title,
        family=wanted.family,
        minutes=wanted.minutes,
        points=wanted.points,
        required=False,
        wished=True,
        needs=(NeedFact(words.NeedKind.ORDER, line),) if wanted.lead_days else (),
    )
    orders = facts.orders
    if wanted.lead_days:
        days = wanted.lead_days
        orders = (
            *orders,
            OrderFact(
                id=f"P-{wanted.code}",
                title=wanted.title,
                supplier="",
                kind=words.OrderKind.BOUGHT,
                move=words.Move.ME,
                lead_early_days=days,
                lead_likely_days=days,
                lead_late_days=days,
                lines=(
                    LineFact(
                        id=line,
                        order=f"P-{wanted.code}",
                        title=wanted.title,
                        hand=words.Hand.NONE,
                        unit=words.Unit.PIECE,
                        quantity_milli=1000,
                    ),
                ),
            ),
        )
    return replace(facts, tasks=(*facts.tasks, task), orders=orders)


def _checked(wanted: Wanted) -> None:
    fit_code(wanted.code)
    some_line(wanted.title, field="title", label="What", most=160)
    if wanted.minutes < 1:
        raise BadInput(
            "Hands-on: how long does it take? Nothing takes no time.", field="minutes"
        )
    number(wanted.minutes, field="minutes", label="Hands-on", most=MOST_MINUTES)
    number(wanted.lead_days, field="lead_days", label="Days", most=MOST_DAYS)


def _locked(idea: Idea) -> Idea:
    idea = Idea.objects.select_for_update(no_key=True, of=("self",)).get(pk=idea.pk)
    if idea.task_id is not None:
        raise Clash(f"That idea was taken up already: {idea.task}.", code="is-taken-up")
    if idea.wiped_at is not None:
        raise Clash(
            f"That idea was wiped off {show_moment(idea.wiped_at)}.", code="is-wiped"
        )
    return idea
