"""The shop, its hands-on hours and its days, over HTTP."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop.actions.shop import (
    add_window,
    change_shop,
    make_shop,
    remove_window,
    require,
    set_day,
    set_weekly_hours,
)
from fabshop.api.field import Code, checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.errors import BadInput
from fabshop.records.shop import Day, Person, Shop, Window


class ShopRead(serializers.ModelSerializer[Shop]):
    class Meta:
        model = Shop
        fields = ["name", "zone", "delivery_minute"]


class WindowRead(serializers.ModelSerializer[Window]):
    person = Code(slug_field="name", read_only=True)

    class Meta:
        model = Window
        fields = ["id", "person", "on", "from_minute", "to_minute", "note"]


class DayRead(serializers.ModelSerializer[Day]):
    class Meta:
        model = Day
        fields = [
            "on",
            "is_off",
            "has_deliveries",
            "may_run_machines",
            "quiet_until_minute",
            "note",
        ]


class ShopIn(serializers.Serializer[Any]):
    name = serializers.CharField(max_length=80)
    zone = serializers.CharField(max_length=60, help_text="Like Europe/London.")


class ShopChange(serializers.Serializer[Any]):
    name = serializers.CharField(max_length=80, required=False)
    zone = serializers.CharField(max_length=60, required=False)
    delivery_minute = serializers.IntegerField(
        required=False, help_text="From this minute of a day, what comes is here."
    )


class ShopDetail(ShopView):
    """The one shop of this house: set up once, changed later."""

    @extend_schema(responses=ShopRead)
    def get(self, request: Request) -> Response:
        return Response(ShopRead(get_object_or_404(Shop)).data)

    @extend_schema(request=ShopIn, responses={201: ShopRead})
    def post(self, request: Request) -> HttpResponseBase:
        require(self.by(), "own")
        given = checked(ShopIn, request)
        return self.once(
            request,
            lambda key: ShopRead(make_shop(now=now(), **given)).data,
            status=201,
        )

    @extend_schema(request=ShopChange, responses=ShopRead)
    def patch(self, request: Request) -> HttpResponseBase:
        given = checked(ShopChange, request)
        return self.once(
            request,
            lambda key: ShopRead(change_shop(by=self.by(), now=now(), **given)).data,
        )


class WindowIn(serializers.Serializer[Any]):
    person = Code(slug_field="name", queryset=Person.objects.all())
    on = serializers.DateField()
    from_minute = serializers.IntegerField(min_value=0, max_value=24 * 60)
    to_minute = serializers.IntegerField(min_value=0, max_value=24 * 60)
    note = serializers.CharField(max_length=200, required=False, default="")


class WindowList(ShopView, generics.ListAPIView[Window]):
    """Hands-on hours: wall-clock minutes of a day in the shop's zone."""

    queryset = Window.objects.select_related("person")
    serializer_class = WindowRead
    filterset_fields = {"person__name": ["exact"], "on": ["exact", "gte", "lte"]}

    @extend_schema(request=WindowIn, responses={201: WindowRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(WindowIn, request)

        def act(key: str | None) -> dict[str, Any]:
            window, notice = add_window(by=self.by(), now=now(), **given)
            return {**WindowRead(window).data, "notice": notice}

        return self.once(request, act, status=201)


class WindowDetail(ShopView):
    @extend_schema(responses=WindowRead)
    def get(self, request: Request, pk: int) -> Response:
        return Response(WindowRead(get_object_or_404(Window, pk=pk)).data)

    @extend_schema(responses={204: None})
    def delete(self, request: Request, pk: int) -> HttpResponseBase:
        window = get_object_or_404(Window, pk=pk)

        def act(key: str | None) -> dict[str, Any]:
            remove_window(by=self.by(), window=window, now=now())
            return {}

        return self.once(request, act, status=204)


class StretchIn(serializers.Serializer[Any]):
    weekday = serializers.IntegerField(
        min_value=0, max_value=6, help_text="Monday is 0."
    )
    from_minute = serializers.IntegerField(min_value=0, max_value=24 * 60)
    to_minute = serializers.IntegerField(min_value=0, max_value=24 * 60)


class WeekIn(serializers.Serializer[Any]):
    person = Code(slug_field="name", queryset=Person.objects.all())
    from_on = serializers.DateField()
    to_on = serializers.DateField()
    hours = StretchIn(many=True)


class Week(ShopView):
    """The same hours every week between two days, in place of those that were."""

    @extend_schema(request=WeekIn, responses=WindowRead(many=True))
    def put(self, request: Request) -> HttpResponseBase:
        given = checked(WeekIn, request)
        pattern: dict[int, list[tuple[int, int]]] = {}
        for stretch in given.pop("hours"):
            pattern.setdefault(stretch["weekday"], []).append(
                (stretch["from_minute"], stretch["to_minute"])
            )

        def act(key: str | None) -> list[Any]:
            windows = set_weekly_hours(
                by=self.by(), pattern=pattern, now=now(), **given
            )
            return list(WindowRead(windows, many=True).data)

        return self.once(request, act)


class DayIn(serializers.Serializer[Any]):
    is_off = serializers.BooleanField(required=False)
    has_deliveries = serializers.BooleanField(required=False)
    may_run_machines = serializers.BooleanField(required=False)
    quiet_until_minute = serializers.IntegerField(
        required=False, allow_null=True, min_value=0, max_value=24 * 60
    )
    note = serializers.CharField(required=False, allow_blank=True, max_length=200)


class DayList(ShopView, generics.ListAPIView[Day]):
    queryset = Day.objects.order_by("on")
    serializer_class = DayRead
    filterset_fields = {"on": ["exact", "gte", "lte"]}


class DayDetail(ShopView):
    """What is out of the ordinary on one day."""

    @extend_schema(responses=DayRead)
    def get(self, request: Request, on: str) -> Response:
        return Response(DayRead(get_object_or_404(Day, on=_day(on))).data)

    @extend_schema(request=DayIn, responses=DayRead)
    def put(self, request: Request, on: str) -> HttpResponseBase:
        given = checked(DayIn, request)
        return self.once(
            request,
            lambda key: (
                DayRead(set_day(by=self.by(), on=_day(on), now=now(), **given)).data
            ),
        )


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise BadInput(
            f"“{text[:20]}” is not a day like 2031-05-05.", field="on"
        ) from None
