"""The calculations over HTTP: the same questions and answers as the command."""

from __future__ import annotations

from typing import Any, cast

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiExample, extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from fabshop import worker
from fabshop.api.once import ShopView
from fabshop.errors import BadQuestion
from fabshop.reckoning.questions import KINDS, parse

# A question's own limit, and what starting the solver and reading the answer take.
GRACE_S = 15.0


class Reckon(ShopView):
    """Ask one question; the formats are in `shared/reckoning.md` of the project."""

    @extend_schema(
        request=OpenApiTypes.OBJECT,
        responses=OpenApiTypes.OBJECT,
        examples=[
            OpenApiExample(
                "One session",
                value={
                    "windows": [["2031-05-05T18:00", "2031-05-05T21:00"]],
                    "deadline": "2031-05-05T21:00",
                    "components": [{"id": "lid", "off": 4, "on": 6}],
                    "tasks": [{"id": "loom", "minutes": 90, "remove": ["lid"]}],
                },
                request_only=True,
            )
        ],
    )
    def post(self, request: Request, kind: str) -> Response:
        if kind not in KINDS:
            raise BadQuestion(
                f"kind: no calculation '{kind}'; there are {', '.join(sorted(KINDS))}",
                field="kind",
            )
        # Refused here, in this process, so that a bad question costs no solver.
        parsed = parse(kind, request.data)
        limit = float(getattr(parsed, "time_limit_s", 5.0)) + GRACE_S
        answer = worker.run(
            "fabshop.reckoning.ask", "reckon", kind, request.data, limit_s=limit
        )
        return Response(cast(dict[str, Any], answer))
