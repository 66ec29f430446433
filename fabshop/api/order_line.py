"""The lines of an order over HTTP: one added, one changed."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request

from fabshop import words
from fabshop.actions.order import add_line, change_line
from fabshop.api.field import Code, Milli, checked
from fabshop.api.once import ShopView
from fabshop.api.order import LineIn, OrderRead, shown
from fabshop.clock import now
from fabshop.records.build import Component
from fabshop.records.order import Order, OrderLine


class LineChange(serializers.Serializer[Any]):
    version = serializers.IntegerField(help_text="The order's, as it was read.")
    title = serializers.CharField(max_length=160, required=False)
    quantity = Milli(source="quantity_milli", required=False)
    unit = serializers.ChoiceField(choices=words.Unit.choices(), required=False)
    hand = serializers.ChoiceField(choices=words.Hand.choices(), required=False)
    component = Code(
        slug_field="code",
        queryset=Component.objects.all(),
        required=False,
        allow_null=True,
    )


class LineList(ShopView):
    """One line more; what was done is owed again."""

    @extend_schema(request=LineIn, responses={201: OrderRead})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        order = get_object_or_404(Order, code=code)
        line = checked(LineIn, request)
        return self.once(
            request,
            lambda key: shown(
                add_line(by=self.by(), order=order, line=line, now=now(), client_id=key)
            ),
            status=201,
        )


class LineDetail(ShopView):
    """Never below what has come of it already."""

    @extend_schema(request=LineChange, responses=OrderRead)
    def patch(self, request: Request, code: str, number: int) -> HttpResponseBase:
        line = get_object_or_404(OrderLine, order__code=code, number=number)
        given = checked(LineChange, request)
        return self.once(
            request,
            lambda key: shown(
                change_line(by=self.by(), line=line, now=now(), client_id=key, **given)
            ),
        )
