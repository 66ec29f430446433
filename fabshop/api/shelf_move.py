"""Moves on the shelf over HTTP: used, taken, counted, come, back, thrown away, gone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request

from fabshop.actions.shelf import (
    bag_short,
    came_in,
    count_up,
    fill_from_line,
    put_back,
    retire_consumable,
    retire_tray,
    take_from_tray,
    throw_away,
    use_consumable,
)
from fabshop.api.field import Code, Milli, checked
from fabshop.api.once import ShopView
from fabshop.api.shelf import ConsumableRead, TrayRead, shown_consumable, shown_tray
from fabshop.clock import now
from fabshop.records.build import Component
from fabshop.records.order import OrderLine
from fabshop.records.shelf import Consumable, Tray
from fabshop.records.task import Task


class SomeIn(serializers.Serializer[Any]):
    quantity = Milli(source="quantity_milli")
    note = serializers.CharField(max_length=160, required=False, allow_blank=True)


class UsedIn(SomeIn):
    task = Code(slug_field="code", queryset=Task.objects.all(), required=False)


class TakenIn(UsedIn):
    component = Code(
        slug_field="code", queryset=Component.objects.all(), required=False
    )


class BagShortIn(serializers.Serializer[Any]):
    component = Code(slug_field="code", queryset=Component.objects.all())
    quantity = Milli(source="quantity_milli", required=False)
    note = serializers.CharField(max_length=160, required=False, allow_blank=True)


class ThrownIn(serializers.Serializer[Any]):
    quantity = Milli(source="quantity_milli")
    why = serializers.CharField(max_length=160)


class SeenIn(serializers.Serializer[Any]):
    seen = Milli(source="seen_milli")
    reason = serializers.CharField(max_length=160, required=False, allow_blank=True)


class OffShelfIn(serializers.Serializer[Any]):
    why = serializers.CharField(max_length=160)


class FilledIn(serializers.Serializer[Any]):
    order = serializers.CharField(max_length=40)
    number = serializers.IntegerField(min_value=1, max_value=32_000)
    each = Milli(source="each_milli", required=False)


class _Moves(ShopView):
    kind: type[Consumable] | type[Tray] = Consumable
    asks: type[serializers.Serializer[Any]] = SomeIn
    verb: Callable[..., Any]
    named = "thing"

    def move(self, request: Request, code: str) -> HttpResponseBase:
        thing = get_object_or_404(self.kind, code=code)
        given = checked(self.asks, request)

        def act(key: str | None) -> dict[str, Any]:
            about = {self.named: thing, "by": self.by(), "now": now()}
            type(self).verb(**about, client_id=key, **given)
            if isinstance(thing, Consumable):
                return shown_consumable(thing)
            return shown_tray(thing)

        return self.once(request, act)


def _moves(
    name: str,
    kind: type[Consumable] | type[Tray],
    asks: type[serializers.Serializer[Any]],
    verb: Callable[..., Any],
    named: str = "thing",
) -> type[_Moves]:
    """A view that answers with the thing as it stands once `verb` was done to it."""
    answers = ConsumableRead if kind is Consumable else TrayRead

    class View(_Moves):
        @extend_schema(request=asks, responses=answers)
        def post(self, request: Request, code: str) -> HttpResponseBase:
            return self.move(request, code)

    View.kind, View.asks, View.named = kind, asks, named
    View.verb = staticmethod(verb)
    View.__name__ = View.__qualname__ = name
    View.__doc__ = (verb.__doc__ or "").split("\n", maxsplit=1)[0]
    return View


def _fill(*, order: str, number: int, **told: Any) -> Any:
    """What is booked in of an order line counts here by itself."""
    line = get_object_or_404(OrderLine, order__code=order, number=number)
    return fill_from_line(line=line, **told)


ConsumableUse = _moves(
    "ConsumableUse", Consumable, UsedIn, use_consumable, named="consumable"
)
ConsumableCount = _moves("ConsumableCount", Consumable, SeenIn, count_up)
ConsumableCame = _moves("ConsumableCame", Consumable, SomeIn, came_in)
ConsumableBack = _moves("ConsumableBack", Consumable, SomeIn, put_back)
ConsumableThrow = _moves("ConsumableThrow", Consumable, ThrownIn, throw_away)
ConsumableGone = _moves(
    "ConsumableGone", Consumable, OffShelfIn, retire_consumable, named="consumable"
)
ConsumableFill = _moves("ConsumableFill", Consumable, FilledIn, _fill)
TrayTake = _moves("TrayTake", Tray, TakenIn, take_from_tray, named="tray")
TrayBagShort = _moves("TrayBagShort", Tray, BagShortIn, bag_short, named="tray")
TrayCount = _moves("TrayCount", Tray, SeenIn, count_up)
TrayCame = _moves("TrayCame", Tray, SomeIn, came_in)
TrayBack = _moves("TrayBack", Tray, SomeIn, put_back)
TrayThrow = _moves("TrayThrow", Tray, ThrownIn, throw_away)
TrayGone = _moves("TrayGone", Tray, OffShelfIn, retire_tray, named="tray")
TrayFill = _moves("TrayFill", Tray, FilledIn, _fill)
