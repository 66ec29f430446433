"""The shelf over HTTP: consumables, trays, what moves of them, what to order."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop import words
from fabshop.actions.shelf import (
    add_consumable,
    add_tray,
    change_consumable,
    change_tray,
    let_through,
    open_consumable,
)
from fabshop.api.field import Code, Milli, checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.reckoning.facts import TrayFact
from fabshop.reckoning.shelf import Stand, Use, to_order
from fabshop.records.shelf import Consumable, Tray
from fabshop.records.task import Task
from fabshop.snapshot import take
from fabshop.snapshot.shelf import consumable_facts, shelf_stands, tray_facts

Data = dict[str, Any]


class UseRead(serializers.Serializer[Any]):
    """`on` is null where nobody knows the day, `quantity` where nobody said it."""

    task = serializers.CharField()
    quantity = serializers.FloatField(allow_null=True)
    on = serializers.DateField(allow_null=True)
    keeps = serializers.ChoiceField(choices=words.Keeps.choices())
    lacking = serializers.FloatField()
    overruled = serializers.CharField()


class ConsumableRead(serializers.Serializer[Any]):
    """`left` is below nothing where somebody counted wrong."""

    code = serializers.CharField()
    name = serializers.CharField()
    unit = serializers.ChoiceField(choices=words.ShelfUnit.choices())
    left = serializers.FloatField()
    wanted = serializers.FloatField()
    short = serializers.FloatField()
    coming = serializers.FloatField()
    keeps = serializers.ChoiceField(choices=words.Keeps.choices())
    last_good_on = serializers.DateField(allow_null=True)
    lot = serializers.CharField()
    is_opened = serializers.BooleanField()
    opened_on = serializers.DateField(allow_null=True)
    use_by_on = serializers.DateField(allow_null=True)
    opened_life_days = serializers.IntegerField(allow_null=True)
    is_lasting = serializers.BooleanField()
    place = serializers.CharField()
    hazard = serializers.CharField()
    note = serializers.CharField()
    uses = UseRead(many=True)


class ConsumableChange(serializers.Serializer[Any]):
    version = serializers.IntegerField(required=False)
    name = serializers.CharField(max_length=120, required=False)
    lot = serializers.CharField(max_length=40, required=False, allow_blank=True)
    is_opened = serializers.BooleanField(required=False)
    opened_on = serializers.DateField(required=False, allow_null=True)
    use_by_on = serializers.DateField(required=False, allow_null=True)
    opened_life_days = serializers.IntegerField(
        required=False, allow_null=True, min_value=0, max_value=7300
    )
    is_lasting = serializers.BooleanField(required=False)
    place = serializers.CharField(max_length=60, required=False, allow_blank=True)
    hazard = serializers.ChoiceField(choices=words.Hazard.choices(), required=False)
    note = serializers.CharField(max_length=160, required=False, allow_blank=True)


class ConsumableIn(ConsumableChange):
    version = None  # type: ignore[assignment]
    code = serializers.CharField(max_length=40)
    name = serializers.CharField(max_length=120)
    unit = serializers.ChoiceField(choices=words.ShelfUnit.choices())
    quantity = Milli(source="quantity_milli", required=False)


class TrayRead(serializers.Serializer[Any]):
    code = serializers.CharField()
    size = serializers.CharField()
    kind = serializers.ChoiceField(choices=words.TrayKind.choices())
    is_single_use = serializers.BooleanField()
    left = serializers.FloatField()
    coming = serializers.FloatField()
    place = serializers.CharField()
    note = serializers.CharField()


class TrayChange(serializers.Serializer[Any]):
    version = serializers.IntegerField(required=False)
    size = serializers.CharField(max_length=40, required=False)
    is_single_use = serializers.BooleanField(required=False)
    place = serializers.CharField(max_length=60, required=False, allow_blank=True)
    note = serializers.CharField(max_length=160, required=False, allow_blank=True)


class TrayIn(TrayChange):
    version = None  # type: ignore[assignment]
    code = serializers.CharField(max_length=40)
    size = serializers.CharField(max_length=40)
    kind = serializers.ChoiceField(choices=words.TrayKind.choices(), required=False)
    quantity = Milli(source="quantity_milli", required=False)


class OpenedIn(serializers.Serializer[Any]):
    on = serializers.DateField(required=False)


class OverruleIn(serializers.Serializer[Any]):
    task = Code(slug_field="code", queryset=Task.objects.all())
    reason = serializers.CharField(max_length=200)


class ToOrderRead(serializers.Serializer[Any]):
    consumable = serializers.CharField()
    quantity = serializers.FloatField(allow_null=True)
    needed_on = serializers.DateField(allow_null=True)
    order_by = serializers.DateField(allow_null=True)
    is_for_today = serializers.BooleanField()
    tasks = serializers.ListField(child=serializers.CharField())
    sentence = serializers.CharField()


def shown_stand(stand: Stand) -> Data:
    thing = stand.thing
    same = ("name", "unit", "lot", "is_opened", "opened_on", "use_by_on")
    more = ("opened_life_days", "is_lasting", "place", "hazard", "note")
    return {
        "code": thing.id,
        **{name: getattr(thing, name) for name in (*same, *more)},
        "left": thing.left_milli / 1000,
        "wanted": stand.wanted_milli / 1000,
        "short": stand.short_milli / 1000,
        "coming": thing.coming_milli / 1000,
        "keeps": stand.keeps,
        "last_good_on": stand.last_good_on,
        "uses": [_use(use) for use in stand.uses],
    }


def _use(use: Use) -> Data:
    milli = use.quantity_milli
    return {
        "task": use.task,
        "quantity": None if milli is None else milli / 1000,
        "on": use.day.on,
        "keeps": use.keeps,
        "lacking": use.lacking_milli / 1000,
        "overruled": use.waived,
    }


def shown_consumable(thing: Consumable) -> Data:
    facts = take(now())
    found = shelf_stands(facts, only=consumable_facts(_row(thing)))
    return shown_stand(found[0])


def _row(thing: Consumable) -> Any:
    return Consumable.objects.filter(pk=thing.pk)


def shown_tray(tray: Tray | TrayFact) -> Data:
    if isinstance(tray, Tray):
        tray = tray_facts(Tray.objects.filter(pk=tray.pk))[0]
    return {
        "code": tray.id,
        "size": tray.size,
        "kind": tray.kind,
        "is_single_use": tray.is_single_use,
        "left": tray.left_milli / 1000,
        "coming": tray.coming_milli / 1000,
        "place": tray.place,
        "note": tray.note,
    }


class ConsumableList(ShopView):
    """What is used up, against the days on which tasks want it."""

    @extend_schema(responses=ConsumableRead(many=True))
    def get(self, request: Request) -> Response:
        return Response([shown_stand(one) for one in shelf_stands(take(now()))])

    @extend_schema(request=ConsumableIn, responses={201: ConsumableRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(ConsumableIn, request)
        return self.once(
            request,
            lambda key: shown_consumable(
                add_consumable(by=self.by(), now=now(), client_id=key, **given)
            ),
            status=201,
        )


class ConsumableDetail(ShopView):
    @extend_schema(responses=ConsumableRead)
    def get(self, request: Request, code: str) -> Response:
        return Response(shown_consumable(get_object_or_404(Consumable, code=code)))

    @extend_schema(request=ConsumableChange, responses=ConsumableRead)
    def patch(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, ConsumableChange, change_consumable)


class ConsumableOpened(ShopView):
    @extend_schema(request=OpenedIn, responses=ConsumableRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, OpenedIn, open_consumable)


class ConsumableOverrule(ShopView):
    """The owner lets one task use it although it has gone off."""

    @extend_schema(request=OverruleIn, responses=ConsumableRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _done(self, request, code, OverruleIn, let_through)


class TrayList(ShopView):
    """Screws, nuts and ties, by the piece."""

    @extend_schema(responses=TrayRead(many=True))
    def get(self, request: Request) -> Response:
        return Response([shown_tray(one) for one in tray_facts()])

    @extend_schema(request=TrayIn, responses={201: TrayRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(TrayIn, request)
        return self.once(
            request,
            lambda key: shown_tray(
                add_tray(by=self.by(), now=now(), client_id=key, **given)
            ),
            status=201,
        )


class TrayDetail(ShopView):
    @extend_schema(responses=TrayRead)
    def get(self, request: Request, code: str) -> Response:
        return Response(shown_tray(get_object_or_404(Tray, code=code)))

    @extend_schema(request=TrayChange, responses=TrayRead)
    def patch(self, request: Request, code: str) -> HttpResponseBase:
        tray = get_object_or_404(Tray, code=code)
        given = checked(TrayChange, request)
        return self.once(
            request,
            lambda key: shown_tray(
                change_tray(by=self.by(), tray=tray, now=now(), client_id=key, **given)
            ),
        )


class ToOrderList(ShopView):
    """What stock and what is on its way do not cover, the first to order first."""

    @extend_schema(responses=ToOrderRead(many=True))
    def get(self, request: Request) -> Response:
        facts = take(now())
        rows = to_order(shelf_stands(facts), facts.now.date())
        return Response(
            [
                {
                    "consumable": one.thing.id,
                    "quantity": one.quantity_milli and one.quantity_milli / 1000,
                    "needed_on": one.needed_on,
                    "order_by": one.order_by,
                    "is_for_today": one.is_for_today,
                    "tasks": list(one.tasks),
                    "sentence": one.sentence,
                }
                for one in rows
            ]
        )


def _done(
    view: ShopView,
    request: Request,
    code: str,
    asks: type[serializers.Serializer[Any]],
    verb: Callable[..., Any],
) -> HttpResponseBase:
    thing = get_object_or_404(Consumable, code=code)
    given = checked(asks, request)

    def act(key: str | None) -> Data:
        verb(by=view.by(), consumable=thing, now=now(), client_id=key, **given)
        return shown_consumable(thing)

    return view.once(request, act)
