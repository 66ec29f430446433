"""Builds over HTTP."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop.actions.build import (
    add_build,
    change_build,
    close_build,
    copy_build,
    reopen_build,
)
from fabshop.api.field import checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.records.build import Build


class BuildRead(serializers.ModelSerializer[Build]):
    class Meta:
        model = Build
        fields = [
            "slug",
            "letter",
            "name",
            "class_name",
            "event_name",
            "event_on",
            "pack_out_at",
            "state",
        ]


class BuildIn(serializers.Serializer[Any]):
    slug = serializers.SlugField(max_length=40)
    letter = serializers.CharField(max_length=4)
    name = serializers.CharField(max_length=80)
    class_name = serializers.CharField(max_length=80, required=False)
    event_name = serializers.CharField(max_length=120, required=False)
    event_on = serializers.DateField(required=False, allow_null=True)
    pack_out_at = serializers.DateTimeField(required=False, allow_null=True)


class BuildList(ShopView, generics.ListAPIView[Build]):
    queryset = Build.objects.all()
    serializer_class = BuildRead
    filterset_fields = ("state",)

    @extend_schema(request=BuildIn, responses={201: BuildRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(BuildIn, request)
        return self.once(
            request,
            lambda key: BuildRead(add_build(by=self.by(), now=now(), **given)).data,
            status=201,
        )


class BuildChange(serializers.Serializer[Any]):
    name = serializers.CharField(max_length=80, required=False)
    class_name = serializers.CharField(max_length=80, required=False, allow_blank=True)
    event_name = serializers.CharField(max_length=120, required=False, allow_blank=True)
    event_on = serializers.DateField(required=False, allow_null=True)
    pack_out_at = serializers.DateTimeField(required=False, allow_null=True)


class BuildDetail(ShopView):
    @extend_schema(responses=BuildRead)
    def get(self, request: Request, slug: str) -> Response:
        return Response(BuildRead(get_object_or_404(Build, slug=slug)).data)

    @extend_schema(request=BuildChange, responses=BuildRead)
    def patch(self, request: Request, slug: str) -> HttpResponseBase:
        build = get_object_or_404(Build, slug=slug)
        given = checked(BuildChange, request)
        return self.once(
            request,
            lambda key: (
                BuildRead(
                    change_build(by=self.by(), build=build, now=now(), **given)
                ).data
            ),
        )


class BuildClose(ShopView):
    @extend_schema(request=None, responses=BuildRead)
    def post(self, request: Request, slug: str) -> HttpResponseBase:
        build = get_object_or_404(Build, slug=slug)
        return self.once(
            request,
            lambda key: (
                BuildRead(close_build(by=self.by(), build=build, now=now())).data
            ),
        )


class BuildReopen(ShopView):
    @extend_schema(request=None, responses=BuildRead)
    def post(self, request: Request, slug: str) -> HttpResponseBase:
        build = get_object_or_404(Build, slug=slug)
        return self.once(
            request,
            lambda key: (
                BuildRead(reopen_build(by=self.by(), build=build, now=now())).data
            ),
        )


class CopyIn(serializers.Serializer[Any]):
    slug = serializers.SlugField(max_length=40)
    letter = serializers.CharField(max_length=4)
    name = serializers.CharField(max_length=80)


class BuildCopy(ShopView):
    """Components and covers of a build as the fresh start of another."""

    @extend_schema(request=CopyIn, responses={201: BuildRead})
    def post(self, request: Request, slug: str) -> HttpResponseBase:
        build = get_object_or_404(Build, slug=slug)
        given = checked(CopyIn, request)
        return self.once(
            request,
            lambda key: (
                BuildRead(
                    copy_build(by=self.by(), build=build, now=now(), **given)
                ).data
            ),
            status=201,
        )
