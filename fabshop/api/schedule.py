"""The plan of the shop over HTTP: ask, read, choose, and what it wants from outside."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import generics, serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop.actions.schedule import (
    ask_plan,
    choose_goal,
    plan_drift,
    set_may_help,
    set_presence,
    set_sent_with,
)
from fabshop.api.field import Code, checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.errors import NotFound
from fabshop.reckoning.planning.goals import Stand, stands
from fabshop.reckoning.planning.needs import line_needs
from fabshop.reckoning.planning.telling import lead
from fabshop.records.order import Order
from fabshop.records.schedule import Presence, ShopPlan
from fabshop.records.task import Fallback, Task
from fabshop.snapshot import plan_clock, take, take_whole
from fabshop.snapshot.kept_plan import KeptPlan, kept_plan


class ShopPlanRead(serializers.ModelSerializer[ShopPlan]):
    class Meta:
        model = ShopPlan
        fields = [
            "edition",
            "is_current",
            "why",
            "change",
            "question",
            "answer",
            "late_question",
            "late_answer",
            "beside",
            "sure",
            "entries",
            "made_at",
        ]


class ShopPlanShort(serializers.ModelSerializer[ShopPlan]):
    class Meta:
        model = ShopPlan
        fields = ["edition", "is_current", "why", "change", "entries", "made_at"]


class ShopPlanList(ShopView, generics.ListAPIView[ShopPlan]):
    """Every plan ever asked for; a POST plans again from how things stand."""

    queryset = ShopPlan.objects.defer(
        "question", "answer", "late_question", "late_answer", "beside", "sure"
    )
    serializer_class = ShopPlanShort

    @extend_schema(request=None, responses={201: ShopPlanRead})
    def post(self, request: Request) -> HttpResponseBase:
        return self.once(
            request,
            lambda key: dict(ShopPlanRead(ask_plan(by=self.by(), now=now())).data),
            status=201,
        )


class ShopPlanDetail(ShopView):
    @extend_schema(responses=ShopPlanRead)
    def get(self, request: Request, edition: str) -> Response:
        plans = ShopPlan.objects.all()
        if edition == "current":
            return Response(ShopPlanRead(current().plan).data)
        return Response(ShopPlanRead(get_object_or_404(plans, edition=edition)).data)


class StandRead(serializers.Serializer[Any]):
    lead = serializers.CharField()
    in_hand_minutes = serializers.IntegerField(allow_null=True)
    points = serializers.IntegerField()
    most_points = serializers.IntegerField()
    missing = serializers.ListField(child=serializers.CharField())
    has_changed = serializers.BooleanField()
    since = serializers.CharField(help_text="What has changed, and what is behind.")
    behind_minutes = serializers.IntegerField()
    chance = serializers.FloatField(allow_null=True)


class ShopPlanStand(ShopView):
    """The current plan in one sentence, and how it stands now."""

    @extend_schema(responses=StandRead)
    def get(self, request: Request) -> Response:
        facts = take(now())
        kept = current()
        drift = plan_drift(kept, facts)
        sure = kept.plan.sure
        told = {
            "lead": lead(kept.story, kept.shift),
            "in_hand_minutes": kept.story.in_hand_minutes,
            "points": kept.story.points,
            "most_points": kept.story.most_points,
            "missing": list(kept.story.missing),
            "has_changed": drift.has_changed,
            "since": drift.sentence,
            "behind_minutes": drift.behind_minutes,
            "chance": sure["plans"][0]["chance"] if sure else None,
        }
        return Response(StandRead(told).data)


class GoalWayRead(serializers.Serializer[Any]):
    id = serializers.IntegerField(source="pk")
    title = serializers.CharField()
    points = serializers.IntegerField()
    minutes = serializers.IntegerField()
    last_at = serializers.DateTimeField(allow_null=True)
    is_too_late = serializers.BooleanField()
    chosen = serializers.BooleanField()
    takes = serializers.ListField(child=serializers.CharField())


class GoalRead(serializers.Serializer[Any]):
    task = serializers.CharField(source="worth.task")
    title = serializers.CharField(source="worth.title")
    points = serializers.IntegerField(source="worth.points")
    minutes = serializers.IntegerField(source="worth.minutes")
    chain = serializers.ListField(child=serializers.CharField(), source="worth.chain")
    per_hour = serializers.FloatField(source="worth.per_hour", allow_null=True)
    stands_at = serializers.CharField()
    chosen = serializers.CharField(allow_blank=True)
    price = serializers.IntegerField(allow_null=True)
    cannot_be_had = serializers.BooleanField()
    why = serializers.CharField(allow_blank=True)
    plans_b = GoalWayRead(source="switches", many=True)


class GoalList(ShopView):
    """Every goal: what it brings for an hour, how it stands, until when it may."""

    @extend_schema(responses=GoalRead(many=True))
    def get(self, request: Request) -> Response:
        facts = take_whole(now())
        kept = kept_plan(facts)
        found = stands(facts, kept.story if kept else None)
        return Response(GoalRead([_aware(one) for one in found], many=True).data)


class ChoiceIn(serializers.Serializer[Any]):
    choice = serializers.ChoiceField(
        choices=["must", "plan-b", "give-up", "again", "free"]
    )
    fallback = serializers.PrimaryKeyRelatedField(
        queryset=Fallback.objects.all(), required=False, help_text="Which Plan B."
    )
    confirm = serializers.BooleanField(default=False)


class ChosenRead(serializers.Serializer[Any]):
    told = serializers.CharField()
    edition = serializers.CharField(allow_null=True)
    change = serializers.CharField(allow_blank=True)
    breaks = serializers.ListField(child=serializers.CharField())


class GoalChoose(ShopView):
    """Decide on one goal; the plan changes at once."""

    @extend_schema(request=ChoiceIn, responses=ChosenRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        task = get_object_or_404(Task, code=code)
        given = checked(ChoiceIn, request)

        def act(key: str | None) -> dict[str, Any]:
            chosen = choose_goal(
                by=self.by(), task=task, now=now(), client_id=key, **given
            )
            return {
                "told": f"{task.code} {chosen.told}",
                "edition": chosen.plan.edition if chosen.plan else None,
                "change": chosen.plan.change if chosen.plan else "",
                "breaks": list(chosen.breaks),
            }

        return self.once(request, act)


class PlanNeedRead(serializers.Serializer[Any]):
    line = serializers.CharField()
    order = serializers.CharField()
    title = serializers.CharField()
    task = serializers.CharField()
    needed_at = serializers.DateTimeField()
    holds_until = serializers.DateField(allow_null=True)
    likely_at = serializers.DateTimeField(allow_null=True)
    late_at = serializers.DateTimeField(allow_null=True)
    lost_minutes = serializers.IntegerField()
    unsent = serializers.BooleanField()
    last_sure_on = serializers.DateField(allow_null=True)
    likely_on = serializers.DateField(allow_null=True)
    then = serializers.CharField()


class PlanNeeds(ShopView):
    """What the plan waits for: until when, and what one day later takes."""

    @extend_schema(responses=PlanNeedRead(many=True))
    def get(self, request: Request) -> Response:
        kept, moment = current(), now()
        clock = plan_clock(moment)
        rows = []
        for one in line_needs(take(moment), kept.story, kept.shift):
            row = {name: getattr(one, name) for name in PlanNeedRead().fields}
            for name in ("needed_at", "likely_at", "late_at"):
                row[name] = row[name] and clock.to_aware(row[name])
            rows.append(row)
        return Response(PlanNeedRead(rows, many=True).data)


class PresenceRow(serializers.ModelSerializer[Presence]):
    class Meta:
        model = Presence
        fields = ["weekday", "from_minute", "to_minute"]
        validators: list[Any] = []


class PresenceList(ShopView):
    """When somebody is in who can start a run, besides the bench hours."""

    @extend_schema(responses=PresenceRow(many=True))
    def get(self, request: Request) -> Response:
        return Response(PresenceRow(Presence.objects.all(), many=True).data)

    @extend_schema(request=PresenceRow(many=True), responses=PresenceRow(many=True))
    def put(self, request: Request) -> HttpResponseBase:
        rows = PresenceRow(data=request.data, many=True)
        rows.is_valid(raise_exception=True)
        told = [
            (row["weekday"], row["from_minute"], row["to_minute"])
            for row in rows.validated_data
        ]

        def act(key: str | None) -> list[Any]:
            set_presence(by=self.by(), rows=told, now=now())
            return list(PresenceRow(Presence.objects.all(), many=True).data)

        return self.once(request, act)


class SentWithIn(serializers.Serializer[Any]):
    task = Code(slug_field="code", queryset=Task.objects.all(), allow_null=True)


class SentWithRead(serializers.Serializer[Any]):
    order = serializers.CharField()
    task = serializers.CharField(allow_null=True)


class OrderSentWith(ShopView):
    """Which task ends with sending an order off."""

    @extend_schema(request=SentWithIn, responses=SentWithRead)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        order = get_object_or_404(Order, code=code)
        given = checked(SentWithIn, request)

        def act(key: str | None) -> dict[str, Any]:
            set_sent_with(by=self.by(), order=order, now=now(), **given)
            task = given["task"]
            return {"order": order.code, "task": task.code if task else None}

        return self.once(request, act)


class MayHelpIn(serializers.Serializer[Any]):
    may_help = serializers.BooleanField()


class TaskMayHelp(ShopView):
    """Whether a helper may do a task in the owner's place."""

    @extend_schema(request=MayHelpIn, responses=MayHelpIn)
    def post(self, request: Request, code: str) -> HttpResponseBase:
        task = get_object_or_404(Task, code=code)
        given = checked(MayHelpIn, request)

        def act(key: str | None) -> dict[str, Any]:
            set_may_help(by=self.by(), task=task, now=now(), **given)
            return {"may_help": given["may_help"]}

        return self.once(request, act)


def current() -> KeptPlan:
    kept = kept_plan(take(now()))
    if kept is None:
        raise NotFound("No plan is made yet: POST to ask for one.", field="edition")
    return kept


def _aware(stand: Stand) -> dict[str, Any]:
    clock = plan_clock(now())
    switches = [
        {name: getattr(one, name) for name in GoalWayRead().fields if name != "id"}
        | {"pk": one.pk, "last_at": one.last_at and clock.to_aware(one.last_at)}
        for one in stand.switches
    ]
    told: dict[str, Any] = {
        name: getattr(stand, name)
        for name in ("worth", "stands_at", "chosen", "price", "cannot_be_had", "why")
    }
    return told | {"switches": switches}
