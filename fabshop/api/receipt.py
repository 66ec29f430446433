"""Parcels over HTTP: counted in, taken back, settled, ordered again."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request

from fabshop import words
from fabshop.actions.order import (
    Count,
    make_reorder,
    receive_parcel,
    settle_line,
    take_back_receipt,
)
from fabshop.api.field import Milli, checked
from fabshop.api.once import ShopView
from fabshop.api.order import OrderRead, ReceiptRead, shown
from fabshop.clock import now
from fabshop.records.order import Order, OrderLine, Receipt


class CountIn(serializers.Serializer[Any]):
    line = serializers.IntegerField(help_text="The line's number on the order.")
    accepted = Milli(source="accepted_milli", required=False, default=0)
    wrong = Milli(source="wrong_milli", required=False, default=0)
    why = serializers.ChoiceField(choices=words.WrongWhy.choices(), required=False)
    note = serializers.CharField(required=False, max_length=200, allow_blank=True)


class ReceiveIn(serializers.Serializer[Any]):
    counts = CountIn(many=True)
    same_parcel = serializers.BooleanField(required=False)
    at = serializers.DateTimeField(required=False)


class Received(serializers.Serializer[Any]):
    receipts = ReceiptRead(many=True)
    freed = serializers.ListField(child=serializers.CharField())
    sentences = serializers.ListField(child=serializers.CharField())


class OrderReceive(ShopView):
    """A parcel, counted line by line and hand by hand."""

    @extend_schema(request=ReceiveIn, responses={201: Received})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        order = get_object_or_404(Order, code=code)
        given = checked(ReceiveIn, request)
        counts = [
            Count(**{**count, "line": _line(order, count["line"])})
            for count in given.pop("counts")
        ]

        def act(key: str | None) -> dict[str, Any]:
            received = receive_parcel(
                by=self.by(),
                order=order,
                counts=counts,
                now=now(),
                client_id=key,
                **given,
            )
            return dict(Received(received).data)

        return self.once(request, act, status=201)


class SettleIn(serializers.Serializer[Any]):
    line = serializers.IntegerField()
    how = serializers.ChoiceField(choices=words.Settled.choices())
    quantity = Milli(source="quantity_milli")


class OrderSettle(ShopView):
    """What becomes of pieces that did not come or came wrong."""

    @extend_schema(request=SettleIn, responses=OrderRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        order = get_object_or_404(Order, code=code)
        given = checked(SettleIn, request)
        given["line"] = _line(order, given["line"])

        def act(key: str | None) -> dict[str, Any]:
            settle_line(by=self.by(), now=now(), client_id=key, **given)
            return shown(order)

        return self.once(request, act)


class TakeBackIn(serializers.Serializer[Any]):
    accepted = Milli(source="accepted_milli", required=False)
    wrong = Milli(source="wrong_milli", required=False)
    note = serializers.CharField(required=False, allow_blank=True)
    at = serializers.DateTimeField(required=False)


class ReceiptTakeBack(ShopView):
    """What was counted goes back out again; all of it where no quantity is named."""

    @extend_schema(request=TakeBackIn, responses={201: ReceiptRead})
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        receipt = get_object_or_404(Receipt, pk=pk)
        given = checked(TakeBackIn, request)
        return self.once(
            request,
            lambda key: (
                ReceiptRead(
                    take_back_receipt(
                        by=self.by(), receipt=receipt, now=now(), client_id=key, **given
                    )
                ).data
            ),
            status=201,
        )


class ReorderIn(serializers.Serializer[Any]):
    line = serializers.IntegerField()
    quantity = Milli(source="quantity_milli")
    code = serializers.SlugField(max_length=40, required=False)


class OrderReorder(ShopView):
    """Draft the order that asks again for what came wrong or never came."""

    @extend_schema(request=ReorderIn, responses={201: OrderRead})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        order = get_object_or_404(Order, code=code)
        given = checked(ReorderIn, request)
        given["line"] = _line(order, given["line"])
        return self.once(
            request,
            lambda key: shown(
                make_reorder(by=self.by(), now=now(), client_id=key, **given)
            ),
            status=201,
        )


def _line(order: Order, number: int) -> OrderLine:
    return get_object_or_404(OrderLine, order=order, number=number)
