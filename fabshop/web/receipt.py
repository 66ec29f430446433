"""Goods in: what is expected, counted against each line, and what that frees."""

from __future__ import annotations

from dataclasses import dataclass, replace

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from fabshop import clock, units, words
from fabshop.actions.order import Count, leave_shut, receive_parcel
from fabshop.actions.order.owed import balance
from fabshop.errors import BadInput, ShopError
from fabshop.records.order import Order, OrderLine
from fabshop.snapshot import take
from fabshop.web.gate import for_writers, signed_in
from fabshop.web.order import Coming, coming
from fabshop.web.photo import keep_photos
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import tap
from fabshop.web.typed import Typed

# What a key does to a counter; "all" is what is expected.
KEYS = ("+1", "+10", "all", "-1")
# One or two short is what most short parcels are: counted by one key.
SHORT_KEYS = ("all-1", "all-2")
A_FEW_MILLI = 3000


@dataclass(frozen=True)
class Counter:
    """One line as it is counted: `good` and `wrong` are what stands in the fields."""

    line: OrderLine
    expected_milli: int
    good: str = "0"
    wrong: str = "0"
    why: str = ""
    note: str = ""

    @property
    def expected(self) -> str:
        return units.show_milli(self.expected_milli)

    @property
    def is_pieces(self) -> bool:
        return self.line.unit == words.Unit.PIECE

    @property
    def keys(self) -> tuple[str, ...]:
        has_few = not self.is_pieces or self.expected_milli < A_FEW_MILLI
        return KEYS if has_few else KEYS + SHORT_KEYS


@signed_in
def goods_in(request: HttpRequest) -> HttpResponse:
    """Open what is shut, then what is overdue or due today, then the rest."""
    now = clock.now()
    facts = take(now)
    today = facts.now.date()
    rows = [row for row in coming(facts, facts.orders) if row.owed]
    shut = [row for row in rows if row.in_the_box]
    rest = [row for row in rows if not row.in_the_box and row.order.sent_on]
    due = [row for row in rest if _is_due(row, today)]
    context = {
        "now": now,
        "shut": shut,
        "due": due,
        "later": [row for row in rest if row not in due],
        "unsent": [row for row in rows if not row.order.sent_on],
    }
    return respond(request, "receipt/goods_in.html", "", context)


@for_writers
def order_receive(request: HttpRequest, code: str) -> HttpResponse:
    """Count one parcel line by line; nothing is kept before Book in."""
    order = _order(code)
    counters = _counters(order, request)
    context: Context = {
        "now": clock.now(),
        "order": order,
        "counters": counters,
        "whys": words.WrongWhy.choices(),
        "held_revision": _held_revision(order),
    }
    if request.method != "POST":
        return respond(request, "receipt/count.html", "", context)
    if key := request.POST.get("key"):
        context["counters"] = [_keyed(counter, key) for counter in counters]
        return respond(request, "receipt/count.html", "", context)
    try:
        counts = _counts(request, counters)
        if not counts:
            raise BadInput(
                "Every counter still stands at 0. Tap how many came, or say that the "
                "box is empty.",
                field="counts",
                code="all-at-nothing",
            )
        received = receive_parcel(
            order=order,
            counts=counts,
            same_parcel=_same_parcel(request),
            **tap(request),
        )
    except ShopError as error:
        return refused(request, error, "receipt/count.html", "", context)
    for sentence in received.sentences:
        messages.info(request, sentence)
    try:
        keep_photos(request, receipt=received.receipts[0])
    except ShopError as error:
        # The count stands; the photo alone was refused, and can be tried again.
        messages.warning(request, f"It is booked in, the photo is not kept. {error}")
    return redirect("order-counted", code)


@signed_in
def order_counted(request: HttpRequest, code: str) -> HttpResponse:
    """Behind Book in: what is still owed, and what is to become of it."""
    order = _order(code)
    facts = take(clock.now())
    known = facts.order_by_id.get(code)
    lines = {line.id: line for line in known.lines} if known else {}
    rows = []
    for line in order.lines.all():
        fact = lines.get(f"{code}/{line.number}")
        if fact and fact.owed_milli:
            rows.append((line, fact))
    context = {
        "now": clock.now(),
        "order": order,
        "row": coming(facts, [known])[0] if known else None,
        "rows": rows,
        "wrong": [pair for pair in rows if pair[1].wrong_milli],
        "settled": words.Settled,
    }
    return respond(request, "receipt/counted.html", "", context)


@require_POST
@for_writers
def order_shut(request: HttpRequest, code: str) -> HttpResponse:
    leave_shut(order=_order(code), **tap(request))
    messages.info(
        request, f"{code} is here, still in the box. It frees nothing until opened."
    )
    return redirect("goods-in")


def _order(code: str) -> Order:
    orders = Order.objects.select_related("supplier").prefetch_related(
        "lines__receipts", "lines__settlements", "lines__component"
    )
    return get_object_or_404(orders, code=code)


def _held_revision(order: Order) -> str:
    """The revision that they hold, where it is not the one that stands here."""
    sent = order.sendings.filter(is_taken_back=False).order_by("at", "id").last()
    held = sent.revision if sent else ""
    return held if order.file_revision and held != order.file_revision else ""


def _is_due(row: Coming, today: object) -> bool:
    return row.is_overdue or any(
        arrival.likely_at and arrival.likely_at.date() == today for arrival in row.owed
    )


def _counters(order: Order, request: HttpRequest) -> list[Counter]:
    post = request.POST
    return [
        Counter(
            line,
            balance(line).owed_milli,
            good=post.get(f"good-{line.number}", "0").strip() or "0",
            wrong=post.get(f"wrong-{line.number}", "0").strip() or "0",
            why=post.get(f"why-{line.number}", ""),
            note=post.get(f"note-{line.number}", ""),
        )
        for line in order.lines.all()
    ]


def _keyed(counter: Counter, key: str) -> Counter:
    """The counter after one key, for phones on which no script runs."""
    field, _, rest = key.partition(":")
    number, _, press = rest.partition(":")
    if number != str(counter.line.number) or press not in KEYS + SHORT_KEYS:
        return counter
    seen = counter.wrong if field == "wrong" else counter.good
    try:
        milli = units.parse_milli(seen, field=field)
    except ShopError:
        return counter
    start = counter.expected_milli if press.startswith("all") else milli
    milli = start + 1000 * int(press.removeprefix("all") or 0)
    shown = units.show_milli(max(0, milli))
    return replace(counter, **{"wrong" if field == "wrong" else "good": shown})


def _counts(request: HttpRequest, counters: list[Counter]) -> list[Count]:
    form = Typed(request)
    counts = []
    # Not those of the page: what they have read of receipts is about to be untrue.
    lines = OrderLine.objects.select_related("order").in_bulk(
        [counter.line.pk for counter in counters]
    )
    for counter in counters:
        number = counter.line.number
        name = counter.line.title
        good = form.milli(f"good-{number}", f"{name}, good") or 0
        wrong = form.milli(f"wrong-{number}", f"{name}, wrong") or 0
        why = None
        if form.raw(f"why-{number}"):
            why = form.choice(
                f"why-{number}", "Why", words.WrongWhy, words.WrongWhy.OTHER
            )
        note = form.text(f"note-{number}", "Note", most=200)
        # An empty box is a parcel too: each line of it was counted as nothing.
        if good or wrong or note or request.POST.get("empty"):
            counts.append(
                Count(
                    line=lines[counter.line.pk],
                    accepted_milli=good,
                    wrong_milli=wrong,
                    why=why,
                    note=note,
                )
            )
    form.refuse_if_wrong()
    return counts


def _same_parcel(request: HttpRequest) -> bool | None:
    return {"yes": True, "no": False}.get(request.POST.get("same_parcel", ""))
