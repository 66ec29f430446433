"""Holds over HTTP: readings, signing, failing, waiving."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request

from fabshop.actions.task import fail_hold, sign_hold, take_reading, waive_hold
from fabshop.api.field import checked
from fabshop.api.once import ShopView
from fabshop.api.task import TaskRead, shown
from fabshop.clock import now
from fabshop.records.task import Reading, Task


class ReadingIn(serializers.Serializer[Any]):
    number = serializers.IntegerField()
    value = serializers.DecimalField(
        max_digits=12, decimal_places=4, help_text="A tick is 1, no tick 0."
    )
    at = serializers.DateTimeField(required=False)


class HoldReading(ShopView):
    """Anybody who may write takes readings; they stand whoever signs."""

    @extend_schema(request=ReadingIn, responses=TaskRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        given = checked(ReadingIn, request)
        reading = get_object_or_404(
            Reading, task__code=code, number=given.pop("number")
        )

        def act(key: str | None) -> dict[str, Any]:
            take_reading(
                by=self.by(), reading=reading, now=now(), client_id=key, **given
            )
            return shown(reading.task)

        return self.once(request, act)


class SignIn(serializers.Serializer[Any]):
    at = serializers.DateTimeField(required=False)
    seen_version = serializers.IntegerField(
        required=False, help_text="The task's version when it was read."
    )


class HoldSign(ShopView):
    @extend_schema(request=SignIn, responses=TaskRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _said(self, request, code, SignIn, sign_hold)


class ReasonIn(SignIn):
    reason = serializers.CharField()


class HoldFail(ShopView):
    @extend_schema(request=ReasonIn, responses=TaskRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _said(self, request, code, ReasonIn, fail_hold)


class HoldWaive(ShopView):
    @extend_schema(request=ReasonIn, responses=TaskRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return _said(self, request, code, ReasonIn, waive_hold)


def _said(
    view: ShopView,
    request: Request,
    code: str,
    asks: type[serializers.Serializer[Any]],
    verb: Any,
) -> HttpResponseBase:
    task = get_object_or_404(Task, code=code)
    given = checked(asks, request)

    def act(key: str | None) -> dict[str, Any]:
        verb(by=view.by(), task=task, now=now(), client_id=key, **given)
        return shown(task)

    return view.once(request, act)
