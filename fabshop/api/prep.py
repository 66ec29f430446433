"""Checklists, colour tables and how long clean counts, over HTTP."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponseBase
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop import words
from fabshop.actions.joint import (
    change_template,
    set_colour_table,
    set_prep_hours,
)
from fabshop.actions.joint.colour import table_of, verdicts_of
from fabshop.actions.joint.template import template_seen
from fabshop.api.field import checked
from fabshop.api.once import ShopView
from fabshop.clock import now
from fabshop.records.joint import PrepStep, PrepTemplate


class PrepStepIn(serializers.Serializer[Any]):
    text = serializers.CharField(max_length=200)
    stage = serializers.ChoiceField(choices=words.PrepStage.choices(), required=False)
    kind = serializers.ChoiceField(choices=words.PrepKind.choices(), required=False)
    does = serializers.ChoiceField(
        choices=words.PrepDoes.choices(), required=False, allow_blank=True
    )
    is_stop = serializers.BooleanField(default=False)
    minutes = serializers.IntegerField(required=False, allow_null=True)
    unit = serializers.CharField(required=False, allow_blank=True)
    caution = serializers.CharField(required=False, allow_blank=True)
    source = serializers.CharField(required=False, allow_blank=True)


class PrepIn(serializers.Serializer[Any]):
    steps = PrepStepIn(many=True)
    wants_colour = serializers.BooleanField(default=False)
    seen_version = serializers.IntegerField(required=False)


class PrepRead(serializers.Serializer[Any]):
    metal = serializers.ChoiceField(choices=words.Metal.choices())
    version = serializers.IntegerField()
    wants_colour = serializers.BooleanField()
    steps = PrepStepIn(many=True)


class PrepDetail(ShopView):
    """A metal's checklist; a change makes the next version."""

    @extend_schema(responses=PrepRead)
    def get(self, request: Request, metal: str) -> Response:
        return Response(_shown(*template_seen(_metal(metal), now())))

    @extend_schema(request=PrepIn, responses=PrepRead)
    def put(self, request: Request, metal: str) -> HttpResponseBase:
        known = _metal(metal)
        given = checked(PrepIn, request)

        def act(key: str | None) -> dict[str, Any]:
            made = change_template(by=self.by(), metal=known, now=now(), **given)
            return _shown(made, list(made.steps.all()))

        return self.once(request, act)


class VerdictIn(serializers.Serializer[Any]):
    colour = serializers.ChoiceField(choices=words.Colour.choices())
    verdict = serializers.ChoiceField(choices=words.Verdict.choices())


class ColoursIn(serializers.Serializer[Any]):
    name = serializers.CharField(max_length=80)
    source = serializers.CharField(max_length=300)
    verdicts = VerdictIn(many=True)


class PrepColours(ShopView):
    """What each colour of a metal means, and by which table."""

    @extend_schema(responses=ColoursIn)
    def get(self, request: Request, metal: str) -> Response:
        return Response(_colours(_metal(metal)))

    @extend_schema(request=ColoursIn, responses=ColoursIn)
    def put(self, request: Request, metal: str) -> HttpResponseBase:
        known = _metal(metal)
        given = checked(ColoursIn, request)
        verdicts = {row["colour"]: row["verdict"] for row in given.pop("verdicts")}

        def act(key: str | None) -> dict[str, Any]:
            set_colour_table(
                by=self.by(), metal=known, verdicts=verdicts, now=now(), **given
            )
            return _colours(known)

        return self.once(request, act)


class HoursIn(serializers.Serializer[Any]):
    clean_minutes = serializers.IntegerField()


class PrepHours(ShopView):
    @extend_schema(request=HoursIn, responses=HoursIn)
    def put(self, request: Request) -> HttpResponseBase:
        given = checked(HoursIn, request)

        def act(key: str | None) -> dict[str, Any]:
            shop = set_prep_hours(by=self.by(), now=now(), **given)
            return {"clean_minutes": shop.clean_minutes}

        return self.once(request, act)


def _metal(name: str) -> words.Metal:
    try:
        return words.Metal(name)
    except ValueError:
        raise Http404 from None


def _shown(template: PrepTemplate, steps: list[PrepStep]) -> dict[str, Any]:
    return {
        "metal": template.metal,
        "version": template.version,
        "wants_colour": template.wants_colour,
        "steps": [
            {name: getattr(step, name) for name in PrepStepIn().fields}
            for step in steps
        ],
    }


def _colours(metal: words.Metal) -> dict[str, Any]:
    table = table_of(metal)
    rows = verdicts_of(metal, table)
    return {
        "name": table.name if table else "",
        "source": table.source if table else "",
        "verdicts": [
            {"colour": colour.value, "verdict": verdict.value}
            for colour, verdict in rows.items()
        ],
    }
