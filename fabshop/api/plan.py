"""Teardown plans over HTTP: ask, accept, tick."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop.actions.plan import (
    accept_plan,
    add_task_to_plan,
    ask_teardown,
    plan_change,
    tick_step,
    tick_to,
)
from fabshop.api.field import Code, checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.records.build import Build
from fabshop.records.plan import Plan, PlanStep
from fabshop.records.task import Task


class StepRead(serializers.ModelSerializer[PlanStep]):
    component = Code(slug_field="code", read_only=True)
    task = Code(slug_field="code", read_only=True)
    is_done = serializers.SerializerMethodField()

    class Meta:
        model = PlanStep
        fields = [
            "number",
            "session",
            "does",
            "component",
            "task",
            "minutes",
            "starts_at",
            "ends_at",
            "cured_at",
            "is_done",
        ]

    def get_is_done(self, step: PlanStep) -> bool:
        ticks = list(step.ticks.all())
        return bool(ticks) and ticks[-1].is_done


class PlanRead(serializers.ModelSerializer[Plan]):
    build = Code(slug_field="slug", read_only=True)
    steps = StepRead(many=True, read_only=True)

    class Meta:
        model = Plan
        fields = [
            "id",
            "build",
            "kind",
            "goal",
            "edition",
            "state",
            "asked",
            "question",
            "answer",
            "late_answer",
            "digest",
            "entries",
            "made_at",
            "accepted_at",
            "version",
            "steps",
        ]


PLANS = Plan.objects.select_related("build").prefetch_related(
    "steps__component", "steps__task", "steps__ticks"
)


class AskIn(serializers.Serializer[Any]):
    build = Code(slug_field="slug", queryset=Build.objects.all())
    tasks = serializers.ListField(
        child=serializers.SlugField(max_length=40),
        required=False,
        help_text="Left out: those put into the planned teardown.",
    )
    dates = serializers.ChoiceField(choices=["likely", "late"], default="likely")
    wait_for = serializers.ChoiceField(choices=["each", "all"], default="each")
    max_sessions = serializers.IntegerField(min_value=1, max_value=3, default=1)
    prefer = serializers.ChoiceField(
        choices=["late_start", "early_finish"], default="late_start"
    )
    begin = serializers.DateTimeField(required=False)


class PlanList(ShopView, generics.ListAPIView[Plan]):
    queryset = PLANS
    serializer_class = PlanRead
    filterset_fields = {"build__slug": ["exact"], "state": ["exact"]}

    @extend_schema(request=AskIn, responses={201: PlanRead})
    def post(self, request: Request) -> HttpResponseBase:
        given = checked(AskIn, request)
        return self.once(
            request,
            lambda key: shown(ask_teardown(by=self.by(), now=now(), **given)),
            status=201,
        )


class PlanDetail(ShopView):
    @extend_schema(responses=PlanRead)
    def get(self, request: Request, pk: int) -> Response:
        return Response(PlanRead(get_object_or_404(PLANS, pk=pk)).data)


class PlanAccept(ShopView):
    """Makes the next edition; the one before it is superseded."""

    @extend_schema(request=None, responses=PlanRead)
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        plan = get_object_or_404(Plan, pk=pk)
        return self.once(
            request,
            lambda key: shown(accept_plan(by=self.by(), plan=plan, now=now())),
        )


class AddIn(serializers.Serializer[Any]):
    task = Code(slug_field="code", queryset=Task.objects.all())


class PlanAdd(ShopView):
    """The same asked again with one task more: a new proposal."""

    @extend_schema(request=AddIn, responses={201: PlanRead})
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        plan = get_object_or_404(Plan.objects.select_related("build"), pk=pk)
        given = checked(AddIn, request)
        return self.once(
            request,
            lambda key: shown(
                add_task_to_plan(by=self.by(), plan=plan, now=now(), **given)
            ),
            status=201,
        )


class ChangeRead(serializers.Serializer[Any]):
    has_changed = serializers.BooleanField()
    sentence = serializers.CharField()
    was_in_hand_minutes = serializers.IntegerField(
        source="was_in_hand", allow_null=True
    )
    now_in_hand_minutes = serializers.IntegerField(
        source="now_in_hand", allow_null=True
    )


class PlanChanged(ShopView):
    """What the shop's changes since do to the plan; reckoned anew, nothing written."""

    @extend_schema(responses=ChangeRead)
    def get(self, request: Request, pk: int) -> Response:
        plan = get_object_or_404(Plan.objects.select_related("build"), pk=pk)
        change = plan_change(plan=plan, now=now(), look_into=True)
        return Response(ChangeRead(change).data)


class TickIn(serializers.Serializer[Any]):
    number = serializers.IntegerField(min_value=1)
    done = serializers.BooleanField(default=True)
    all_to = serializers.BooleanField(
        default=False, help_text="Every step up to this one."
    )
    at = serializers.DateTimeField(required=False)
    ended_at = serializers.DateTimeField(
        required=False, help_text="When a forgotten timer really stopped."
    )
    confirm = serializers.BooleanField(
        required=False, help_text="Yes, it really took that long."
    )


class PlanTick(ShopView):
    @extend_schema(request=TickIn, responses=PlanRead)
    def post(self, request: Request, pk: int) -> HttpResponseBase:
        plan = get_object_or_404(Plan, pk=pk)
        given = checked(TickIn, request)
        number, done = given.pop("number"), given.pop("done")
        all_to = given.pop("all_to")

        def act(key: str | None) -> dict[str, Any]:
            common = {"by": self.by(), "now": now(), "client_id": key, **given}
            if all_to:
                tick_to(plan=plan, number=number, **common)
            else:
                step = get_object_or_404(PlanStep, plan=plan, number=number)
                tick_step(step=step, done=done, **common)
            return shown(plan)

        return self.once(request, act)


def shown(plan: Plan) -> dict[str, Any]:
    return dict(PlanRead(PLANS.get(pk=plan.pk)).data)
