"""Suppliers: the firms and friends that orders go to."""

from __future__ import annotations

from django.contrib import messages
from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from fabshop import clock
from fabshop.actions.order import add_supplier
from fabshop.errors import ShopError
from fabshop.records.order import Supplier
from fabshop.web.gate import for_owner, signed_in
from fabshop.web.respond import refused, respond
from fabshop.web.tap import said
from fabshop.web.typed import Typed


@signed_in
def supplier_list(request: HttpRequest) -> HttpResponse:
    suppliers = Supplier.objects.annotate(order_count=Count("orders"))
    context = {"now": clock.now(), "suppliers": suppliers}
    return respond(request, "order/suppliers.html", "", context)


@for_owner
def supplier_new(request: HttpRequest) -> HttpResponse:
    context = {"now": clock.now()}
    if request.method != "POST":
        return respond(request, "order/supplier.html", "", context)
    try:
        form = Typed(request)
        name = form.needed("name", "Name", most=120)
        contact = form.text("contact", "Contact", most=200)
        note = form.text("note", "Note", most=20_000)
        form.refuse_if_wrong()
        supplier = add_supplier(name=name, contact=contact, note=note, **said(request))
    except ShopError as error:
        return refused(request, error, "order/supplier.html", "", context)
    messages.info(request, f"{supplier} is kept.")
    return redirect("order-new")
