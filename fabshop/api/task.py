"""Tasks over HTTP: read them, plan them, start, stop and finish them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop import words
from fabshop.actions.log import (
    finish_work,
    part_done,
    start_work,
    stick,
    stop_work,
)
from fabshop.actions.task import add_task, change_task, give_up_task, reopen_task
from fabshop.api.field import Code, Milli, checked
from fabshop.api.log import EntryRead
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.records.build import Build
from fabshop.records.task import (
    Fallback,
    HoldSigning,
    Need,
    Reading,
    Site,
    Stage,
    Task,
)


class StageRead(serializers.ModelSerializer[Stage]):
    machine = Code(slug_field="code", read_only=True)

    class Meta:
        model = Stage
        fields = ["number", "kind", "minutes", "machine"]


class NeedRead(serializers.ModelSerializer[Need]):
    line = serializers.SerializerMethodField(help_text="Order code / line number.")
    quantity = Milli(source="quantity_milli", read_only=True)

    class Meta:
        model = Need
        fields = ["kind", "line", "rack_code", "quantity", "note"]

    def get_line(self, need: Need) -> str | None:
        return f"{need.line.order.code}/{need.line.number}" if need.line else None


class SiteRead(serializers.ModelSerializer[Site]):
    component = Code(slug_field="code", read_only=True)

    class Meta:
        model = Site
        fields = ["component", "kind"]


class FallbackRead(serializers.ModelSerializer[Fallback]):
    class Meta:
        model = Fallback
        fields = ["id", "title", "minutes", "points", "uses", "chosen_at"]


class ReadingRead(serializers.ModelSerializer[Reading]):
    class Meta:
        model = Reading
        fields = ["number", "label", "kind", "unit", "low", "high"]


class SigningRead(serializers.ModelSerializer[HoldSigning]):
    person = Code(slug_field="name", read_only=True)

    class Meta:
        model = HoldSigning
        fields = ["verdict", "reason", "person", "at"]


class TaskRead(serializers.ModelSerializer[Task]):
    build = Code(slug_field="slug", read_only=True)
    stages = StageRead(many=True, read_only=True)
    needs = NeedRead(many=True, read_only=True)
    sites = SiteRead(many=True, read_only=True)
    fallbacks = FallbackRead(many=True, read_only=True)
    readings = ReadingRead(many=True, read_only=True)
    signings = SigningRead(many=True, read_only=True)
    after = serializers.SerializerMethodField()

    class Meta:
        model = Task
        fields = [
            "code",
            "build",
            "title",
            "family",
            "state",
            "is_required",
            "points",
            "is_unbroken",
            "is_closed_up",
            "is_for_good",
            "is_hold",
            "in_teardown",
            "is_noisy",
            "left_minutes",
            "cured_at",
            "done_at",
            "version",
            "stages",
            "after",
            "needs",
            "sites",
            "fallbacks",
            "readings",
            "signings",
        ]

    def get_after(self, task: Task) -> list[str]:
        return sorted(after.before.code for after in task.afters.all())


TASKS = Task.objects.select_related("build").prefetch_related(
    "stages__machine",
    "afters__before",
    "needs__line__order",
    "sites__component",
    "fallbacks",
    "readings",
    "signings__person",
)


class TaskFields(serializers.Serializer[Any]):
    title = serializers.CharField(max_length=160, required=False)
    family = serializers.CharField(max_length=40, required=False)
    minutes = serializers.IntegerField(required=False, allow_null=True)
    is_required = serializers.BooleanField(required=False)
    points = serializers.IntegerField(required=False)
    is_unbroken = serializers.BooleanField(required=False)
    is_closed_up = serializers.BooleanField(required=False)
    is_for_good = serializers.BooleanField(required=False)
    is_hold = serializers.BooleanField(required=False)
    in_teardown = serializers.BooleanField(required=False)
    is_noisy = serializers.BooleanField(required=False)
    confirm = serializers.BooleanField(
        required=False, help_text="Yes, it takes no time at all."
    )


class TaskIn(TaskFields):
    code = serializers.SlugField(max_length=40)
    title = serializers.CharField(max_length=160)
    build = Code(
        slug_field="slug", queryset=Build.objects.all(), allow_null=True, default=None
    )


class TaskChange(TaskFields):
    version = serializers.IntegerField()


class TaskList(ShopView, generics.ListAPIView[Task]):
    queryset = TASKS
    serializer_class = TaskRead
    filterset_fields = {
        "build__slug": ["exact"],
        "state": ["exact"],
        "family": ["exact"],
        "is_hold": ["exact"],
        "in_teardown": ["exact"],
    }

    @extend_schema(request=TaskIn, responses={201: TaskRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(TaskIn, request)
        return self.once(
            request,
            lambda key: shown(add_task(by=self.by(), now=now(), **given)),
            status=201,
        )


class TaskDetail(ShopView):
    @extend_schema(responses=TaskRead)
    def get(self, request: Request, code: str) -> Response:
        return Response(TaskRead(get_object_or_404(TASKS, code=code)).data)

    @extend_schema(request=TaskChange, responses=TaskRead)
    def patch(self, request: Request, code: str) -> HttpResponseBase:
        task = get_object_or_404(Task, code=code)
        given = checked(TaskChange, request)
        return self.once(
            request,
            lambda key: shown(change_task(by=self.by(), task=task, now=now(), **given)),
        )


class TaskGiveUp(ShopView):
    @extend_schema(request=None, responses=TaskRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        task = get_object_or_404(Task, code=code)
        return self.once(
            request,
            lambda key: shown(
                give_up_task(by=self.by(), task=task, now=now(), client_id=key)
            ),
        )


class TaskReopen(ShopView):
    @extend_schema(request=None, responses=TaskRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        task = get_object_or_404(Task, code=code)
        return self.once(
            request,
            lambda key: shown(
                reopen_task(by=self.by(), task=task, now=now(), client_id=key)
            ),
        )


class StartIn(serializers.Serializer[Any]):
    at = serializers.DateTimeField(required=False)
    switch = serializers.BooleanField(
        required=False, help_text="Stop what is running and start this."
    )


class StopIn(serializers.Serializer[Any]):
    at = serializers.DateTimeField(required=False)
    ended_at = serializers.DateTimeField(
        required=False, help_text="When it really stopped, where that was earlier."
    )
    confirm = serializers.BooleanField(
        required=False, help_text="Yes, it really took that long."
    )


class DoneIn(StopIn):
    waive = serializers.CharField(
        required=False, help_text="The owner's reason for going on all the same."
    )


class PartDoneIn(StopIn):
    left_minutes = serializers.IntegerField(required=False, min_value=0)
    left_share = serializers.FloatField(required=False, min_value=0, max_value=1)


class StuckIn(StopIn):
    on = serializers.ChoiceField(choices=words.StuckOn.choices())
    text = serializers.CharField(required=False, allow_blank=True)


class Timed(ShopView):
    """A verb of the log that is about one task and answers with its line."""

    asks: type[serializers.Serializer[Any]]
    act: Callable[..., Any]

    def answer(self, request: Request, code: str) -> HttpResponseBase:
        task = get_object_or_404(Task, code=code)
        given = checked(self.asks, request)
        return self.once(
            request,
            lambda key: (
                EntryRead(
                    type(self).act(
                        by=self.by(), task=task, now=now(), client_id=key, **given
                    )
                ).data
            ),
            status=201,
        )


class TaskStart(Timed):
    asks = StartIn
    act = staticmethod(start_work)

    @extend_schema(request=StartIn, responses={201: EntryRead})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return self.answer(request, code)


class TaskStop(Timed):
    asks = StopIn
    act = staticmethod(stop_work)

    @extend_schema(request=StopIn, responses={201: EntryRead})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return self.answer(request, code)


class TaskDone(Timed):
    asks = DoneIn
    act = staticmethod(finish_work)

    @extend_schema(request=DoneIn, responses={201: EntryRead})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return self.answer(request, code)


class TaskPartDone(Timed):
    asks = PartDoneIn
    act = staticmethod(part_done)

    @extend_schema(request=PartDoneIn, responses={201: EntryRead})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return self.answer(request, code)


class TaskStuck(Timed):
    asks = StuckIn
    act = staticmethod(stick)

    @extend_schema(request=StuckIn, responses={201: EntryRead})
    def post(self, request: Request, code: str) -> HttpResponseBase:
        return self.answer(request, code)


def shown(task: Task) -> dict[str, Any]:
    return dict(TaskRead(TASKS.get(pk=task.pk)).data)
