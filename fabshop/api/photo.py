"""Photos over HTTP: taken in by content, served from the pages' own address."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.parsers import MultiPartParser
from rest_framework.request import Request

from fabshop.actions.photo import keep_photo
from fabshop.api.field import Code, checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.records.log import LogEntry, PhotoUse
from fabshop.records.order import Receipt
from fabshop.records.plan import PlanStep


class PhotoIn(serializers.Serializer[Any]):
    """One picture, and the one thing it belongs to."""

    content = serializers.FileField()
    entry = Code(
        slug_field="client_id", queryset=LogEntry.objects.all(), required=False
    )
    receipt = serializers.PrimaryKeyRelatedField(
        queryset=Receipt.objects.all(), required=False
    )
    step = serializers.PrimaryKeyRelatedField(
        queryset=PlanStep.objects.all(), required=False
    )


class PhotoRead(serializers.ModelSerializer[PhotoUse]):
    digest = serializers.CharField(source="photo.digest", read_only=True)
    width = serializers.IntegerField(source="photo.width", read_only=True)
    height = serializers.IntegerField(source="photo.height", read_only=True)

    class Meta:
        model = PhotoUse
        fields = ["digest", "width", "height", "at"]


class PhotoList(ShopView):
    parser_classes = [MultiPartParser]

    @extend_schema(request=PhotoIn, responses={201: PhotoRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(PhotoIn, request)
        content = given.pop("content").read()
        return self.once(
            request,
            lambda key: (
                PhotoRead(
                    keep_photo(
                        by=self.by(), content=content, now=now(), client_id=key, **given
                    )
                ).data
            ),
            status=201,
        )
