"""Tables over HTTP: tried first, what is bad told by row and column, then taken."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponseBase
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request

from fabshop.actions.intake import Taken, take_table
from fabshop.api.field import checked
from fabshop.api.once import ShopView
from fabshop.clock import now

MOST_CHARACTERS = 5_000_000


class TableIn(serializers.Serializer[Any]):
    table = serializers.CharField(
        max_length=MOST_CHARACTERS,
        trim_whitespace=False,
        help_text="The rows as text, the names of the columns in the first.",
    )
    accept = serializers.ChoiceField(
        choices=["try", "all", "good"],
        default="try",
        help_text="try writes nothing; all writes where no row is bad; good leaves "
        "the bad rows out.",
    )


class BadCellRead(serializers.Serializer[Any]):
    row = serializers.IntegerField()
    column = serializers.CharField()
    seen = serializers.CharField()
    message = serializers.CharField()


class TakenRead(serializers.Serializer[Any]):
    good = serializers.IntegerField(help_text="How many rows are good.")
    bad = BadCellRead(many=True)
    notices = serializers.ListField(child=serializers.CharField())
    is_written = serializers.BooleanField()


class Intake(ShopView):
    """A table of builds, components, tasks, suppliers or orders."""

    @extend_schema(request=TableIn, responses=TakenRead)
    def post(self, request: Request, noun: str) -> HttpResponseBase:
        given = checked(TableIn, request)
        accept = given["accept"] if given["accept"] != "try" else ""

        def act(key: str | None) -> dict[str, Any]:
            taken: Taken = take_table(
                by=self.by(),
                kind=noun,
                content=given["table"].encode("utf-8", "replace"),
                now=now(),
                accept=accept,
            )
            return dict(TakenRead(taken).data)

        return self.once(request, act)
