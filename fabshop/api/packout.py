"""Spares and breakages over HTTP."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request

from fabshop.actions.packout import add_spare, broke, change_spare
from fabshop.api.field import Code, checked
from fabshop.api.log import EntryRead
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.records.build import Component
from fabshop.records.packout import Spare


class SpareRead(serializers.ModelSerializer[Spare]):
    fits = serializers.SerializerMethodField()

    class Meta:
        model = Spare
        fields = ["code", "title", "quantity", "place", "test_minutes", "note", "fits"]

    def get_fits(self, spare: Spare) -> list[str]:
        return [fit.component.code for fit in spare.fits.all()]


class SpareChange(serializers.Serializer[Any]):
    quantity = serializers.IntegerField(required=False)
    place = serializers.CharField(required=False, allow_blank=True)
    fits = Code(
        slug_field="code", queryset=Component.objects.all(), many=True, required=False
    )


class SpareIn(SpareChange):
    code = serializers.CharField()
    title = serializers.CharField()
    test_minutes = serializers.IntegerField(required=False)
    note = serializers.CharField(required=False, allow_blank=True)


class BrokeIn(serializers.Serializer[Any]):
    text = serializers.CharField(required=False, allow_blank=True)


class SpareList(ShopView, generics.ListAPIView[Spare]):
    queryset = Spare.objects.prefetch_related("fits__component")
    serializer_class = SpareRead

    @extend_schema(request=SpareIn, responses={201: SpareRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(SpareIn, request)
        return self.once(
            request,
            lambda key: SpareRead(add_spare(by=self.by(), now=now(), **given)).data,
            status=201,
        )


class SpareDetail(ShopView, generics.RetrieveAPIView[Spare]):
    queryset = Spare.objects.prefetch_related("fits__component")
    serializer_class = SpareRead
    lookup_field = "code"

    @extend_schema(request=SpareChange, responses=SpareRead)
    def patch(self, request: Request, code: str) -> HttpResponseBase:
        spare = get_object_or_404(Spare, code=code)
        given = checked(SpareChange, request)
        return self.once(
            request,
            lambda key: (
                SpareRead(
                    change_spare(by=self.by(), spare=spare, now=now(), **given)
                ).data
            ),
        )


class ComponentBroke(ShopView):
    @extend_schema(request=BrokeIn, responses={201: EntryRead})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        component = get_object_or_404(Component, code=code)
        given = checked(BrokeIn, request)
        return self.once(
            request,
            lambda key: (
                EntryRead(
                    broke(
                        by=self.by(),
                        component=component,
                        now=now(),
                        client_id=key,
                        **given,
                    )
                ).data
            ),
            status=201,
        )
