"""Suppliers over HTTP."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request

from fabshop.actions.order import add_supplier
from fabshop.api.field import checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.records.order import Supplier


class SupplierRead(serializers.ModelSerializer[Supplier]):
    class Meta:
        model = Supplier
        fields = ["code", "name", "contact", "note"]


class SupplierIn(serializers.Serializer[Any]):
    name = serializers.CharField(max_length=120)
    code = serializers.SlugField(max_length=60, required=False)
    contact = serializers.CharField(max_length=200, required=False, allow_blank=True)
    note = serializers.CharField(required=False, allow_blank=True)


class SupplierList(ShopView, generics.ListAPIView[Supplier]):
    queryset = Supplier.objects.all()
    serializer_class = SupplierRead

    @extend_schema(request=SupplierIn, responses={201: SupplierRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(SupplierIn, request)
        return self.once(
            request,
            lambda key: (
                SupplierRead(add_supplier(by=self.by(), now=now(), **given)).data
            ),
            status=201,
        )
