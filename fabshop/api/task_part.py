"""What a task is made of, over HTTP: each list is set whole."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request

from fabshop import words
from fabshop.actions.task import (
    choose_fallback,
    set_after,
    set_fallbacks,
    set_needs,
    set_readings,
    set_sites,
    set_stages,
)
from fabshop.api.field import Milli, checked
from fabshop.api.once import ShopView
from fabshop.api.task import TaskRead, shown
from fabshop.clock import now
from fabshop.records.task import Fallback, Task


class AfterIn(serializers.Serializer[Any]):
    after = serializers.ListField(child=serializers.SlugField(max_length=40))


class TaskAfter(ShopView):
    """The tasks that must be done before; a loop is refused and named."""

    @extend_schema(request=AfterIn, responses=TaskRead)
    def put(self, request: Request, code: str) -> HttpResponseBase:
        return _set(self, request, code, AfterIn, set_after)


class StageIn(serializers.Serializer[Any]):
    kind = serializers.ChoiceField(choices=words.StageKind.choices())
    minutes = serializers.IntegerField(min_value=0)
    machine = serializers.SlugField(required=False, allow_null=True)


class StagesIn(serializers.Serializer[Any]):
    stages = StageIn(many=True)


class TaskStages(ShopView):
    @extend_schema(request=StagesIn, responses=TaskRead)
    def put(self, request: Request, code: str) -> HttpResponseBase:
        return _set(self, request, code, StagesIn, set_stages)


class NeedIn(serializers.Serializer[Any]):
    kind = serializers.ChoiceField(choices=words.NeedKind.choices())
    line = serializers.CharField(required=False, help_text="Order code / line number.")
    rack_code = serializers.CharField(required=False, max_length=40)
    quantity = Milli(source="quantity_milli", required=False, allow_null=True)
    note = serializers.CharField(required=False, max_length=120, allow_blank=True)


class NeedsIn(serializers.Serializer[Any]):
    needs = NeedIn(many=True)


class TaskNeeds(ShopView):
    """What must be in hand; a line without a quantity is needed whole."""

    @extend_schema(request=NeedsIn, responses=TaskRead)
    def put(self, request: Request, code: str) -> HttpResponseBase:
        return _set(self, request, code, NeedsIn, set_needs)


class SiteIn(serializers.Serializer[Any]):
    kind = serializers.ChoiceField(choices=words.SiteKind.choices())
    component = serializers.SlugField(max_length=40)


class SitesIn(serializers.Serializer[Any]):
    sites = SiteIn(many=True)


class TaskSites(ShopView):
    @extend_schema(request=SitesIn, responses=TaskRead)
    def put(self, request: Request, code: str) -> HttpResponseBase:
        task = get_object_or_404(Task, code=code)
        sites = [
            (site["kind"], site["component"])
            for site in checked(SitesIn, request)["sites"]
        ]
        return self.once(
            request,
            lambda key: shown(
                set_sites(
                    by=self.by(), task=task, sites=sites, now=now(), client_id=key
                )
            ),
        )


class ReadingWanted(serializers.Serializer[Any]):
    label = serializers.CharField(max_length=120)
    kind = serializers.ChoiceField(choices=words.ReadingKind.choices())
    unit = serializers.CharField(max_length=12, required=False, allow_blank=True)
    low = serializers.DecimalField(
        max_digits=12, decimal_places=4, required=False, allow_null=True
    )
    high = serializers.DecimalField(
        max_digits=12, decimal_places=4, required=False, allow_null=True
    )


class ReadingsIn(serializers.Serializer[Any]):
    readings = ReadingWanted(many=True)


class TaskReadings(ShopView):
    """What must be ticked or measured before the hold can be signed."""

    @extend_schema(request=ReadingsIn, responses=TaskRead)
    def put(self, request: Request, code: str) -> HttpResponseBase:
        return _set(self, request, code, ReadingsIn, set_readings)


class FallbackIn(serializers.Serializer[Any]):
    title = serializers.CharField(max_length=160)
    minutes = serializers.IntegerField(min_value=0)
    points = serializers.IntegerField(required=False)
    uses = serializers.CharField(max_length=80, required=False, allow_blank=True)


class FallbacksIn(serializers.Serializer[Any]):
    fallbacks = FallbackIn(many=True)


class TaskFallbacks(ShopView):
    @extend_schema(request=FallbacksIn, responses=TaskRead)
    def put(self, request: Request, code: str) -> HttpResponseBase:
        return _set(self, request, code, FallbacksIn, set_fallbacks)


class ChooseIn(serializers.Serializer[Any]):
    chosen = serializers.BooleanField(default=True)
    confirm = serializers.BooleanField(
        default=False, help_text="Take it though its last moment is past."
    )


class FallbackChoose(ShopView):
    """Take this Plan B, or go back to the final way."""

    @extend_schema(request=ChooseIn, responses=TaskRead)
    def post(self, request: Request, code: str, pk: int) -> HttpResponseBase:
        fallback = get_object_or_404(Fallback, pk=pk, task__code=code)
        given = checked(ChooseIn, request)

        def act(key: str | None) -> dict[str, Any]:
            choose_fallback(
                by=self.by(), fallback=fallback, now=now(), client_id=key, **given
            )
            return shown(fallback.task)

        return self.once(request, act)


def _set(
    view: ShopView,
    request: Request,
    code: str,
    asks: type[serializers.Serializer[Any]],
    verb: Any,
) -> HttpResponseBase:
    task = get_object_or_404(Task, code=code)
    given = checked(asks, request)
    return view.once(
        request,
        lambda key: shown(
            verb(by=view.by(), task=task, now=now(), client_id=key, **given)
        ),
    )
