"""What becomes of pieces that did not come, or came wrong and lie on the shelf."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from fabshop import clock, units, words
from fabshop.actions.order import make_reorder, settle_line, take_back_receipt
from fabshop.errors import BadInput
from fabshop.records.order import OrderLine, Receipt
from fabshop.web.gate import for_writers, signed_in
from fabshop.web.respond import respond
from fabshop.web.tap import tap
from fabshop.web.typed import Typed

MOST_SHOWN = 100


@signed_in
def penalty_shelf(request: HttpRequest) -> HttpResponse:
    receipts = (
        Receipt.objects.filter(wrong_milli__gt=0)
        .select_related("line__order__supplier", "person")
        .prefetch_related("line__settlements__reordered_on__order")
        .order_by("-at", "-id")[:MOST_SHOWN]
    )
    context = {"now": clock.now(), "receipts": receipts}
    return respond(request, "receipt/shelf.html", "", context)


@require_POST
@for_writers
def line_settle(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """Rest coming, refunded, make it here, or a draft that orders it again."""
    line = get_object_or_404(
        OrderLine.objects.select_related("order__supplier"),
        order__code=code,
        number=number,
    )
    form = Typed(request)
    quantity = form.milli("quantity", f"How much of {line.title}")
    form.refuse_if_wrong()
    if quantity is None:
        raise BadInput("How much of it? Nothing is written.", field="quantity")
    try:
        how = words.Settled(request.POST.get("how", ""))
    except ValueError:
        raise BadInput("Say what becomes of it.", field="how") from None
    if how is words.Settled.REORDERED:
        again = make_reorder(line=line, quantity_milli=quantity, **tap(request))
        messages.info(
            request, f"{again.code} orders it again. It is with you: send it."
        )
        return redirect("order", again.code)
    settle_line(line=line, how=how, quantity_milli=quantity, **tap(request))
    messages.info(request, f"{code}/{number}: {how.label}.")
    return redirect("order", code)


@require_POST
@for_writers
def receipt_take_back(request: HttpRequest, pk: int) -> HttpResponse:
    """What was booked by mistake, or goes back to the firm; empty is all of it."""
    receipt = get_object_or_404(Receipt.objects.select_related("line__order"), pk=pk)
    form = Typed(request)
    quantity = form.milli("quantity", "How much goes back")
    form.refuse_if_wrong()
    some = {} if quantity is None else {"accepted_milli": quantity, "wrong_milli": 0}
    back = take_back_receipt(receipt=receipt, **some, **tap(request))
    messages.info(
        request,
        f"{units.show_milli(back.counted_milli)} taken back of {receipt.line.title}.",
    )
    return redirect("order", receipt.line.order.code)
