"""Suppliers, orders and what comes of them, over HTTP."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop import words
from fabshop.actions.order import (
    add_order,
    change_order,
    give_up_order,
    leave_shut,
    mark_sent,
    promise,
    take_back_sending,
)
from fabshop.api.field import Code, Milli, checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.records.build import Build, Component
from fabshop.records.order import (
    Order,
    OrderLine,
    Promise,
    Receipt,
    Sending,
    Settlement,
    Supplier,
)


class SendingRead(serializers.ModelSerializer[Sending]):
    class Meta:
        model = Sending
        fields = ["sent_on", "revision", "is_taken_back", "at"]


class PromiseRead(serializers.ModelSerializer[Promise]):
    line = Code(slug_field="number", read_only=True)

    class Meta:
        model = Promise
        fields = ["line", "eta_on", "latest_on", "said", "at"]


class ReceiptRead(serializers.ModelSerializer[Receipt]):
    counted = Milli(source="counted_milli", read_only=True)
    accepted = Milli(source="accepted_milli", read_only=True)
    wrong = Milli(source="wrong_milli", read_only=True)

    class Meta:
        model = Receipt
        fields = [
            "kind",
            "counted",
            "accepted",
            "wrong",
            "wrong_why",
            "note",
            "parcel",
            "at",
        ]


class SettlementRead(serializers.ModelSerializer[Settlement]):
    quantity = Milli(source="quantity_milli", read_only=True)

    class Meta:
        model = Settlement
        fields = ["how", "quantity", "at"]


class LineRead(serializers.ModelSerializer[OrderLine]):
    quantity = Milli(source="quantity_milli", read_only=True)
    component = Code(slug_field="code", read_only=True)
    material = serializers.CharField(
        source="material.code", read_only=True, allow_null=True, default=None
    )
    receipts = ReceiptRead(many=True, read_only=True)
    settlements = SettlementRead(many=True, read_only=True)

    class Meta:
        model = OrderLine
        fields = [
            "number",
            "title",
            "hand",
            "quantity",
            "unit",
            "component",
            "material",
            "thickness_um",
            "finish",
            "receipts",
            "settlements",
        ]


class OrderRead(serializers.ModelSerializer[Order]):
    supplier = Code(slug_field="code", read_only=True)
    build = Code(slug_field="slug", read_only=True)
    lines = LineRead(many=True, read_only=True)
    sendings = SendingRead(many=True, read_only=True)
    promises = PromiseRead(many=True, read_only=True)

    class Meta:
        model = Order
        fields = [
            "code",
            "supplier",
            "build",
            "title",
            "kind",
            "move",
            "sent_on",
            "lead_early_days",
            "lead_likely_days",
            "lead_late_days",
            "file_name",
            "file_revision",
            "give_back_on",
            "to_event",
            "given_up_at",
            "note",
            "version",
            "lines",
            "sendings",
            "promises",
        ]


ORDERS = Order.objects.select_related("supplier", "build").prefetch_related(
    "lines__component",
    "lines__material",
    "lines__receipts",
    "lines__settlements",
    "sendings",
    "promises__line",
)


class LineIn(serializers.Serializer[Any]):
    title = serializers.CharField(max_length=160)
    quantity = Milli(source="quantity_milli")
    unit = serializers.ChoiceField(choices=words.Unit.choices(), required=False)
    hand = serializers.ChoiceField(choices=words.Hand.choices(), required=False)
    component = Code(
        slug_field="code", queryset=Component.objects.all(), required=False
    )


class OrderFields(serializers.Serializer[Any]):
    lead_early_days = serializers.IntegerField(required=False, min_value=0)
    lead_likely_days = serializers.IntegerField(required=False, min_value=0)
    lead_late_days = serializers.IntegerField(required=False, min_value=0)
    file_name = serializers.CharField(required=False, max_length=160)
    file_revision = serializers.CharField(required=False, max_length=12)
    give_back_on = serializers.DateField(required=False, allow_null=True)
    note = serializers.CharField(required=False, allow_blank=True)


class OrderIn(OrderFields):
    code = serializers.SlugField(max_length=40)
    supplier = Code(slug_field="code", queryset=Supplier.objects.all())
    build = Code(slug_field="slug", queryset=Build.objects.all(), required=False)
    title = serializers.CharField(max_length=160)
    kind = serializers.ChoiceField(choices=words.OrderKind.choices())
    lines = LineIn(many=True)


class OrderChange(OrderFields):
    version = serializers.IntegerField()
    supplier = Code(slug_field="code", queryset=Supplier.objects.all(), required=False)
    build = Code(
        slug_field="slug",
        queryset=Build.objects.all(),
        required=False,
        allow_null=True,
    )
    title = serializers.CharField(max_length=160, required=False)
    kind = serializers.ChoiceField(choices=words.OrderKind.choices(), required=False)


class OrderList(ShopView, generics.ListAPIView[Order]):
    queryset = ORDERS
    serializer_class = OrderRead
    filterset_fields = {
        "move": ["exact"],
        "kind": ["exact"],
        "supplier__code": ["exact"],
        "build__slug": ["exact"],
    }

    @extend_schema(request=OrderIn, responses={201: OrderRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(OrderIn, request)
        return self.once(
            request,
            lambda key: shown(add_order(by=self.by(), now=now(), **given)),
            status=201,
        )


class OrderDetail(ShopView):
    @extend_schema(responses=OrderRead)
    def get(self, request: Request, code: str) -> Response:
        return Response(OrderRead(get_object_or_404(ORDERS, code=code)).data)

    @extend_schema(request=OrderChange, responses=OrderRead)
    def patch(self, request: Request, code: str) -> HttpResponseBase:
        order = get_object_or_404(Order, code=code)
        given = checked(OrderChange, request)
        return self.once(
            request,
            lambda key: shown(
                change_order(by=self.by(), order=order, now=now(), **given)
            ),
        )


class SentIn(serializers.Serializer[Any]):
    on = serializers.DateField(required=False)
    revision = serializers.CharField(required=False, max_length=12)
    confirm = serializers.BooleanField(
        required=False, help_text="The drawings are right, doubtful or not."
    )
    at = serializers.DateTimeField(required=False)


class OrderSent(ShopView):
    """I sent the file, or booked it: the lead clock starts."""

    @extend_schema(request=SentIn, responses=OrderRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, SentIn, mark_sent)


class NotSentIn(serializers.Serializer[Any]):
    at = serializers.DateTimeField(required=False)


class OrderNotSent(ShopView):
    """Not sent after all."""

    @extend_schema(request=NotSentIn, responses=OrderRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, NotSentIn, take_back_sending)


class PromiseIn(serializers.Serializer[Any]):
    line = serializers.IntegerField(required=False)
    eta_on = serializers.DateField(required=False)
    latest_on = serializers.DateField(required=False)
    said = serializers.CharField(required=False, max_length=120)
    at = serializers.DateTimeField(required=False)


class OrderPromise(ShopView):
    """Another word on when it comes; every word is kept."""

    @extend_schema(request=PromiseIn, responses=OrderRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, PromiseIn, promise)


class LeaveShutIn(serializers.Serializer[Any]):
    at = serializers.DateTimeField(required=False)


class OrderLeaveShut(ShopView):
    """It came and is still in the box: it frees nothing."""

    @extend_schema(request=LeaveShutIn, responses=OrderRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, LeaveShutIn, leave_shut)


class GiveUpIn(serializers.Serializer[Any]):
    confirm = serializers.BooleanField(required=False)


class OrderGiveUp(ShopView):
    @extend_schema(request=GiveUpIn, responses=OrderRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, GiveUpIn, give_up_order)


def _line(order: Order, number: int) -> OrderLine:
    return get_object_or_404(OrderLine, order=order, number=number)


def _done(
    view: ShopView,
    request: Request,
    code: str,
    asks: type[serializers.Serializer[Any]],
    verb: Any,
) -> HttpResponseBase:
    order = get_object_or_404(Order, code=code)
    given = checked(asks, request)
    if given.get("line") is not None:
        given["line"] = _line(order, given["line"])

    def act(key: str | None) -> dict[str, Any]:
        verb(by=view.by(), order=order, now=now(), client_id=key, **given)
        return shown(order)

    return view.once(request, act)


def shown(order: Order) -> dict[str, Any]:
    return dict(OrderRead(ORDERS.get(pk=order.pk)).data)
