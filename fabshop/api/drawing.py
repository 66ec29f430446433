"""Drawings of order lines and what was measured on them, over HTTP."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.parsers import MultiPartParser
from rest_framework.request import Request

from fabshop import words
from fabshop.actions.drawing import (
    decide_check,
    describe_line,
    measure_check,
    put_drawing,
    send_to_event,
)
from fabshop.actions.stock.material import material_called
from fabshop.api.field import checked
from fabshop.api.once import ShopView
from fabshop.api.order import OrderRead, shown
from fabshop.clock import now
from fabshop.records.drawing import CheckDecision, Drawing, MeasuredCheck
from fabshop.records.order import Order, OrderLine


class DrawingRead(serializers.ModelSerializer[Drawing]):
    """One revision; `read` is null where the file is no DXF."""

    order = serializers.CharField(source="line.order.code", read_only=True)
    line = serializers.IntegerField(source="line.number", read_only=True)
    read = serializers.JSONField(read_only=True, allow_null=True)

    class Meta:
        model = Drawing
        fields = [
            *("id", "order", "line", "revision", "hand", "file_name", "digest"),
            *("size_bytes", "read", "at"),
        ]


class DrawingIn(serializers.Serializer[Any]):
    file = serializers.FileField()
    revision = serializers.CharField(required=False, max_length=12)


class DecisionRead(serializers.ModelSerializer[CheckDecision]):
    class Meta:
        model = CheckDecision
        fields = ["how", "reason", "at"]


class CheckRead(serializers.ModelSerializer[MeasuredCheck]):
    order = serializers.CharField(source="line.order.code", read_only=True)
    line = serializers.IntegerField(source="line.number", read_only=True)
    decisions = DecisionRead(many=True, read_only=True)

    class Meta:
        model = MeasuredCheck
        fields = [
            *("id", "order", "line", "label", "tolerance", "thickness_um"),
            *("nominal_um", "lower_um", "upper_um", "reading_um", "verdict"),
            *("source", "decisions", "at"),
        ]


class CheckIn(serializers.Serializer[Any]):
    label = serializers.CharField(max_length=80)
    nominal_um = serializers.IntegerField(min_value=0, max_value=10_000_000)
    reading_um = serializers.IntegerField(min_value=0, max_value=10_000_000)
    tolerance = serializers.ChoiceField(
        choices=words.Tolerance.choices(), required=False
    )
    thickness_um = serializers.IntegerField(
        required=False, min_value=1, max_value=1_000_000
    )
    lower_um = serializers.IntegerField(
        required=False, min_value=-10_000_000, max_value=10_000_000
    )
    upper_um = serializers.IntegerField(
        required=False, min_value=-10_000_000, max_value=10_000_000
    )
    at = serializers.DateTimeField(required=False)


class DecideIn(serializers.Serializer[Any]):
    how = serializers.ChoiceField(choices=words.CheckDecision.choices())
    reason = serializers.CharField(required=False, max_length=200, allow_blank=True)
    at = serializers.DateTimeField(required=False)


class LineCutIn(serializers.Serializer[Any]):
    """What a line is cut of; the material by its code."""

    material = serializers.CharField(required=False, max_length=40)
    thickness_um = serializers.IntegerField(
        required=False, min_value=1, max_value=1_000_000
    )
    finish = serializers.CharField(required=False, max_length=80, allow_blank=True)


class EventIn(serializers.Serializer[Any]):
    back = serializers.BooleanField(required=False)


DRAWINGS = Drawing.objects.select_related("line__order")
CHECKS = MeasuredCheck.objects.select_related("line__order").prefetch_related(
    "decisions"
)


class DrawingList(ShopView, generics.ListAPIView[Drawing]):
    queryset = DRAWINGS
    serializer_class = DrawingRead
    filterset_fields = {
        "line__order__code": ["exact"],
        "line__number": ["exact"],
        "revision": ["exact"],
    }


class LineDrawing(ShopView):
    """Put a drawing on a line as its newest revision; only a DXF is read."""

    parser_classes = [MultiPartParser]

    @extend_schema(request=DrawingIn, responses={201: DrawingRead})
    def post(self, request: Request, code: str, number: int) -> HttpResponseBase:
        line = _line(code, number)
        given = checked(DrawingIn, request)
        file = given.pop("file")
        content = file.read()

        def act(key: str | None) -> dict[str, Any]:
            drawing = put_drawing(
                by=self.by(),
                line=line,
                content=content,
                file_name=file.name or "",
                now=now(),
                client_id=key,
                **given,
            )
            return dict(DrawingRead(DRAWINGS.get(pk=drawing.pk)).data)

        return self.once(request, act, status=201)


class LineCut(ShopView):
    """Say what a line is cut of: its mass and its holes are judged by that."""

    @extend_schema(request=LineCutIn, responses=OrderRead)
    def post(self, request: Request, code: str, number: int) -> HttpResponseBase:
        line = _line(code, number)
        given = checked(LineCutIn, request)
        if "material" in given:
            given["material"] = material_called(given["material"])

        def act(key: str | None) -> dict[str, Any]:
            describe_line(by=self.by(), line=line, now=now(), client_id=key, **given)
            return shown(line.order)

        return self.once(request, act)


class CheckList(ShopView, generics.ListAPIView[MeasuredCheck]):
    queryset = CHECKS
    serializer_class = CheckRead
    filterset_fields = {
        "line__order__code": ["exact"],
        "line__number": ["exact"],
        "verdict": ["exact"],
    }


class LineCheck(ShopView):
    """Keep one reading of a line; the verdict is reckoned."""

    @extend_schema(request=CheckIn, responses={201: CheckRead})
    def post(self, request: Request, code: str, number: int) -> HttpResponseBase:
        line = _line(code, number)
        given = checked(CheckIn, request)

        def act(key: str | None) -> dict[str, Any]:
            check = measure_check(
                by=self.by(), line=line, now=now(), client_id=key, **given
            )
            return dict(CheckRead(CHECKS.get(pk=check.pk)).data)

        return self.once(request, act, status=201)


class CheckDecide(ShopView):
    """Accepted, penalty shelf, or live with it: the latest word holds, all stay."""

    @extend_schema(request=DecideIn, responses=CheckRead)
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        check = get_object_or_404(CHECKS, pk=pk)
        given = checked(DecideIn, request)

        def act(key: str | None) -> dict[str, Any]:
            decide_check(by=self.by(), check=check, now=now(), client_id=key, **given)
            return dict(CheckRead(CHECKS.get(pk=pk)).data)

        return self.once(request, act)


class OrderEvent(ShopView):
    """It goes to the event's address, or with `back` to the shop after all."""

    @extend_schema(request=EventIn, responses=OrderRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        order = get_object_or_404(Order, code=code)
        given = checked(EventIn, request)

        def act(key: str | None) -> dict[str, Any]:
            send_to_event(by=self.by(), order=order, now=now(), client_id=key, **given)
            return shown(order)

        return self.once(request, act)


def _line(code: str, number: int) -> OrderLine:
    lines = OrderLine.objects.select_related("order", "material")
    return get_object_or_404(lines, order__code=code, number=number)
