"""Runs of machines over HTTP: begun, came out, failed, still going."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request

from fabshop.actions.overnight import came_out, run_failed, start_run, still_going
from fabshop.api.field import Code, checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.records.overnight import Run
from fabshop.records.task import Task

RUNS = Run.objects.select_related("task", "machine", "person")


class RunRead(serializers.ModelSerializer[Run]):
    task = Code(slug_field="code", read_only=True)
    machine = Code(slug_field="code", read_only=True)
    person = Code(slug_field="name", read_only=True)

    class Meta:
        model = Run
        fields = [
            *("id", "task", "machine", "minutes", "person", "begun_at", "due_at"),
            *("reason", "verdict", "ended_at", "cause", "is_taken_back"),
        ]


class RunStartIn(serializers.Serializer[Any]):
    at = serializers.DateTimeField(required=False)
    reason = serializers.CharField(required=False, allow_blank=True)
    confirm = serializers.BooleanField(required=False)


class CameOutIn(serializers.Serializer[Any]):
    at = serializers.DateTimeField(required=False)


class RunFailedIn(CameOutIn):
    cause = serializers.CharField()
    failed_at = serializers.DateTimeField(required=False)


class StillGoingIn(CameOutIn):
    minutes = serializers.IntegerField()


class RunList(generics.ListAPIView[Run]):
    queryset = RUNS
    serializer_class = RunRead
    filterset_fields = {"task__code": ["exact"], "verdict": ["exact"]}


class RunDetail(generics.RetrieveAPIView[Run]):
    queryset = RUNS
    serializer_class = RunRead


class TaskRun(ShopView):
    @extend_schema(request=RunStartIn, responses={201: RunRead})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        task = get_object_or_404(Task, code=code)
        given = checked(RunStartIn, request)

        def act(key: str | None) -> dict[str, Any]:
            run = start_run(by=self.by(), task=task, now=now(), client_id=key, **given)
            return RunRead(run).data

        return self.once(request, act, status=201)


class RunCameOut(ShopView):
    @extend_schema(request=CameOutIn, responses=RunRead)
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        run, given = get_object_or_404(RUNS, pk=pk), checked(CameOutIn, request)

        def act(key: str | None) -> dict[str, Any]:
            told = {"by": self.by(), "now": now(), "client_id": key}
            return RunRead(came_out(run=run, **told, **given)).data

        return self.once(request, act)


class RunFailed(ShopView):
    @extend_schema(request=RunFailedIn, responses=RunRead)
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        run, given = get_object_or_404(RUNS, pk=pk), checked(RunFailedIn, request)

        def act(key: str | None) -> dict[str, Any]:
            told = {"by": self.by(), "now": now(), "client_id": key}
            return RunRead(run_failed(run=run, **told, **given)).data

        return self.once(request, act)


class RunStillGoing(ShopView):
    @extend_schema(request=StillGoingIn, responses=RunRead)
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        run, given = get_object_or_404(RUNS, pk=pk), checked(StillGoingIn, request)

        def act(key: str | None) -> dict[str, Any]:
            told = {"by": self.by(), "now": now(), "client_id": key}
            return RunRead(still_going(run=run, **told, **given)).data

        return self.once(request, act)
