"""What can be done now and what cannot, with every reason, over HTTP."""

from __future__ import annotations

from dataclasses import asdict
from datetime import datetime
from typing import Any

from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop import words
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.reckoning.arrivals import arrivals
from fabshop.reckoning.readiness import hangs_on, readiness, start_now
from fabshop.snapshot import Clock, plan_clock, take


class ReasonOut(serializers.Serializer[Any]):
    why = serializers.ChoiceField(choices=words.Why.choices())
    sentence = serializers.CharField()
    clears_at = serializers.DateTimeField(
        allow_null=True, help_text="Null where nobody can know."
    )
    lines = serializers.ListField(child=serializers.CharField())
    components = serializers.ListField(
        child=serializers.CharField(), help_text="In the order they come off."
    )
    tasks = serializers.ListField(child=serializers.CharField())
    minutes = serializers.IntegerField(allow_null=True)


class TaskReadyOut(serializers.Serializer[Any]):
    task = serializers.CharField()
    build = serializers.CharField(help_text="Empty where all builds share it.")
    why = serializers.ChoiceField(choices=words.Why.choices())
    reasons = ReasonOut(many=True)
    free_at = serializers.DateTimeField(allow_null=True)
    free_late = serializers.DateTimeField(allow_null=True)
    since = serializers.DateField(allow_null=True)


class HangingOut(serializers.Serializer[Any]):
    line = serializers.CharField(help_text="Order code / line number.")
    tasks = serializers.ListField(child=serializers.CharField())
    following = serializers.ListField(child=serializers.CharField())
    minutes = serializers.IntegerField()
    points = serializers.IntegerField()
    teardown = serializers.BooleanField()
    likely_at = serializers.DateTimeField(allow_null=True)
    late_at = serializers.DateTimeField(allow_null=True)
    basis = serializers.CharField()


class StartableOut(serializers.Serializer[Any]):
    task = serializers.CharField()
    minutes = serializers.IntegerField()
    sentence = serializers.CharField()


class NowOut(serializers.Serializer[Any]):
    start = StartableOut(many=True)
    blocked = TaskReadyOut(many=True)


BUILD = OpenApiParameter("build", str, description="Only of this build (its slug).")
WHY = OpenApiParameter("why", str, enum=[str(why) for why in words.Why])
MINUTES = OpenApiParameter("minutes", int, description="What there is time for.")


class ReadinessList(ShopView):
    """Every open task: can it be done now, and if not, why and until when."""

    @extend_schema(parameters=[BUILD, WHY], responses=TaskReadyOut(many=True))
    def get(self, request: Request) -> Response:
        moment = now()
        rows = _ready_rows(moment)
        build, why = request.query_params.get("build"), request.query_params.get("why")
        return Response(
            TaskReadyOut(
                [
                    row
                    for row in rows
                    if (build is None or row["build"] == build)
                    and (why is None or row["why"] == why)
                ],
                many=True,
            ).data
        )


class HangingList(ShopView):
    """For every line that has not come: what waits for it."""

    @extend_schema(responses=HangingOut(many=True))
    def get(self, request: Request) -> Response:
        moment = now()
        facts, clock = take(moment), plan_clock(moment)
        coming = arrivals(facts)
        rows = [
            {
                **asdict(hanging),
                "likely_at": _aware(clock, coming[line].likely_at),
                "late_at": _aware(clock, coming[line].late_at),
                "basis": coming[line].basis,
            }
            for line, hanging in sorted(hangs_on(facts).items())
        ]
        return Response(HangingOut(rows, many=True).data)


class Now(ShopView):
    """What can be started now, best first, and what waits for parts."""

    @extend_schema(parameters=[MINUTES], responses=NowOut)
    def get(self, request: Request) -> Response:
        given = MinutesIn(data=request.query_params)
        given.is_valid(raise_exception=True)
        moment = now()
        startable = start_now(
            take(moment),
            minutes_available=given.validated_data.get("minutes"),
            who=self.by().name,
        )
        blocked = [
            row for row in _ready_rows(moment) if row["why"] == words.Why.WANTS_PARTS
        ]
        return Response(NowOut({"start": startable, "blocked": blocked}).data)


class MinutesIn(serializers.Serializer[Any]):
    minutes = serializers.IntegerField(required=False, min_value=1, max_value=100_000)


def _ready_rows(moment: datetime) -> list[dict[str, Any]]:
    facts, clock = take(moment), plan_clock(moment)
    rows = []
    for code, ready in sorted(readiness(facts).items()):
        row = asdict(ready)
        row["build"] = facts.task_by_id[code].build
        row["free_at"] = _aware(clock, ready.free_at)
        row["free_late"] = _aware(clock, ready.free_late)
        for reason in row["reasons"]:
            reason["clears_at"] = _aware(clock, reason["clears_at"])
        rows.append(row)
    return rows


def _aware(clock: Clock, naive: datetime | None) -> datetime | None:
    return None if naive is None else clock.to_aware(naive)
