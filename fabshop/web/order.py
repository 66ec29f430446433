"""On the way: every order by whose move it is and by day, and the page of one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from fabshop import clock, words
from fabshop.reckoning.arrivals import Arrival, arrivals, order_stand
from fabshop.reckoning.facts import Facts, OrderFact
from fabshop.reckoning.hours import factors_of, minutes_left
from fabshop.reckoning.landing import lands_after_pack_out
from fabshop.reckoning.readiness import Hanging, hangs_on
from fabshop.reckoning.tonight import Send, to_send
from fabshop.records.log import LogEntry
from fabshop.records.order import Order
from fabshop.records.plan import PlanStep
from fabshop.snapshot import order_facts, plan_clock, take
from fabshop.snapshot.kept_plan import by_plan_of, kept_plan, planned_moments
from fabshop.web.gate import signed_in
from fabshop.web.respond import respond

MOVES = (
    (words.Move.ME, "With me"),
    (words.Move.FIRM, "With them"),
    (words.Move.CARRIER, "On the road"),
    (words.Move.DONE, "Done"),
)


@dataclass(frozen=True)
class Coming:
    """One order as its row shows it; the moments are those of its last line."""

    order: OrderFact
    stand: words.OrderStand
    owed: tuple[Arrival, ...]
    hanging: tuple[Hanging, ...]
    minutes: int
    points: int
    send: Send | None = None

    @property
    def likely_at(self) -> datetime | None:
        known = [a.likely_at for a in self.owed if a.likely_at]
        return max(known) if len(known) == len(self.owed) and known else None

    @property
    def late_at(self) -> datetime | None:
        known = [a.late_at for a in self.owed if a.late_at]
        return max(known) if len(known) == len(self.owed) and known else None

    @property
    def eta_on(self) -> date | None:
        """The day that stands: the firm's word, else what is reckoned."""
        said = max((a.eta_on for a in self.owed if a.eta_on), default=None)
        return said or (self.likely_at.date() if self.likely_at else None)

    @property
    def first_on(self) -> date | None:
        return max((a.first_on for a in self.owed if a.first_on), default=None)

    @property
    def days_late(self) -> int:
        return max((a.days_late for a in self.owed), default=0)

    @property
    def basis(self) -> str:
        return "; ".join(dict.fromkeys(a.basis for a in self.owed))

    @property
    def late_basis(self) -> str:
        """Whether late is the firm's word, its own record, or as typed."""
        return "; ".join(dict.fromkeys(a.late_basis for a in self.owed if a.late_basis))

    @property
    def is_unsent(self) -> bool:
        return any(a.unsent for a in self.owed)

    @property
    def is_overdue(self) -> bool:
        return any(a.overdue for a in self.owed)

    @property
    def in_the_box(self) -> bool:
        return any(line.in_the_box for line in self.order.lines)

    @property
    def tasks(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(t for h in self.hanging for t in h.tasks))

    @property
    def teardown(self) -> bool:
        return any(h.teardown for h in self.hanging)

    @property
    def holds_another_revision(self) -> bool:
        """They were sent one revision, and we hold another now."""
        order = self.order
        return bool(
            order.sent_on
            and order.sent_revision
            and order.file_revision
            and order.sent_revision != order.file_revision
        )


def coming(facts: Facts, orders: Iterable[OrderFact]) -> list[Coming]:
    """The rows of `orders`, soonest first, those that nobody can date last."""
    kept = kept_plan(facts)
    planned = planned_moments(facts, kept, planned_starts())
    mine = to_send(facts, planned=planned, by_plan=by_plan_of(facts, kept))
    sends = {send.order: send for send in mine}
    due, hanging, known = arrivals(facts), hangs_on(facts), factors_of(facts)
    rows = []
    for order in orders:
        hang = tuple(hanging[line.id] for line in order.lines if line.id in hanging)
        # One task may hang on two lines; its hours count once.
        names = {t for h in hang for t in (*h.tasks, *h.following)}
        tasks = [facts.task_by_id[name] for name in names]
        rows.append(
            Coming(
                order,
                order_stand(order, facts),
                tuple(due[line.id] for line in order.lines if line.id in due),
                hang,
                minutes=sum(minutes_left(task, known) for task in tasks),
                points=sum(task.points for task in tasks),
                send=sends.get(order.id),
            )
        )
    return sorted(rows, key=lambda r: (r.likely_at or datetime.max, r.order.id))


def planned_starts() -> dict[str, datetime]:
    """When the accepted plans begin each task, on the plan's clock."""
    steps = PlanStep.objects.filter(
        plan__state=words.PlanState.ACCEPTED, task__isnull=False
    ).select_related("task")
    on_plan = plan_clock(clock.now())
    return {step.task.code: on_plan.to_plan(step.starts_at) for step in steps}


@signed_in
def order_list(request: HttpRequest) -> HttpResponse:
    facts = take(clock.now())
    rows = coming(facts, (order for order in facts.orders if not order.given_up))
    live = [row for row in rows if row.owed]
    mine = sorted(_of(live, words.Move.ME), key=_last_sure_day)
    context = {
        "now": clock.now(),
        "by_date": request.GET.get("by") == "date",
        "days": _by_day(live),
        "moves": [
            (move, title, mine if move is words.Move.ME else _of(live, move))
            for move, title in MOVES
            if _of(live, move)
        ],
        "mine": mine,
        "slipped": [row for row in live if row.days_late > 0],
        "shut": [row for row in rows if row.in_the_box],
        "owed_count": len(live),
        "closed": [row for row in rows if not row.owed],
        "given_up": Order.objects.filter(given_up_at__isnull=False),
    }
    return respond(request, "order/list.html", "", context)


@signed_in
def order(request: HttpRequest, code: str) -> HttpResponse:
    return respond(request, "order/detail.html", "", order_context(code))


def order_context(code: str) -> dict[str, object]:
    """What the page of one order shows, in a fixed number of queries."""
    record = get_object_or_404(
        Order.objects.select_related("supplier", "build").prefetch_related(
            "lines__component",
            "lines__receipts__person",
            "lines__settlements__reordered_on__order",
            "lines__needed_by__task",
            "promises__person",
            "promises__line",
            "sendings__person",
        ),
        code=code,
    )
    facts = take(clock.now())
    # An order that no live build asks for is read by itself.
    alone = order_facts([record], plan_clock(clock.now()))[0]
    known = facts.order_by_id.get(code, alone)
    row = coming(facts, [known])[0]
    by_number = {line.id: line for line in known.lines}
    due = {a.line: a for a in row.owed}
    hanging = {h.line: h for h in row.hanging}
    lines = []
    for line in record.lines.all():
        id_ = f"{code}/{line.number}"
        lines.append((line, by_number.get(id_), due.get(id_), hanging.get(id_)))
    return {
        "now": clock.now(),
        "order": record,
        "row": row,
        "landing": lands_after_pack_out(facts, known),
        "lines": lines,
        "entries": LogEntry.objects.filter(order=record).select_related("person")[:20],
    }


def _of(rows: list[Coming], move: words.Move) -> list[Coming]:
    return [row for row in rows if row.order.move is move]


def _last_sure_day(row: Coming) -> date:
    """What must be sent first stands first; what nobody needs stands last."""
    return row.send.last_sure_on if row.send and row.send.last_sure_on else date.max


def _by_day(rows: list[Coming]) -> list[tuple[date | None, list[Coming]]]:
    days: dict[date | None, list[Coming]] = {}
    for row in rows:
        days.setdefault(row.likely_at.date() if row.likely_at else None, []).append(row)
    return list(days.items())
