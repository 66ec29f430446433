"""Where things lie, over HTTP."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop.api.once import ShopView
from fabshop.snapshot.where import where


class FoundRead(serializers.Serializer[Any]):
    """`place` is empty where nobody said one, `seen_at` null where nobody is known."""

    code = serializers.CharField()
    name = serializers.CharField()
    kind = serializers.CharField(help_text="component, tube, consumable, order, ...")
    place = serializers.CharField()
    seen_by = serializers.CharField()
    seen_at = serializers.DateTimeField(allow_null=True)


class Where(ShopView):
    @extend_schema(
        parameters=[OpenApiParameter("what", str, description="Words, all of them.")],
        responses=FoundRead(many=True),
    )
    def get(self, request: Request) -> Response:
        """What has each of these words in its code, name, note or place."""
        asked = str(request.query_params.get("what", ""))[:80]
        rows = [asdict(found) for found in where(asked)]
        return Response(FoundRead(rows, many=True).data)
