"""Every refusal of the API in one shape: RFC 9457 problem details."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404
from rest_framework import exceptions, serializers
from rest_framework.response import Response
from rest_framework.views import set_rollback

from fabshop import errors

CONTENT_TYPE = "application/problem+json"


class FieldProblem(serializers.Serializer[Any]):
    field = serializers.CharField()
    message = serializers.CharField()


class Problem(serializers.Serializer[Any]):
    """`type` is always about:blank: `code` is what programs go by."""

    type = serializers.CharField()
    title = serializers.CharField()
    status = serializers.IntegerField()
    code = serializers.CharField()
    detail = serializers.CharField()
    errors = FieldProblem(many=True)


TITLES = {
    400: "Not understood",
    401: "Not signed in",
    403: "Not allowed",
    404: "Not found",
    405: "Not done here",
    406: "Not in that form",
    409: "Clash",
    413: "Too large",
    415: "Not in that form",
    422: "Refused",
    429: "Too many tries",
    503: "Not now",
}


def problem_handler(exc: Exception, context: dict[str, Any]) -> Response | None:
    """Turn an error into its problem; None leaves a fault of ours to be a 500."""
    if isinstance(exc, errors.ShopError):
        set_rollback()
        return problem(
            exc.status,
            exc.code,
            exc.message,
            [{"field": e.field, "message": e.message} for e in exc.errors],
        )
    if isinstance(exc, Http404):
        exc = exceptions.NotFound("Nothing of that name is known here.")
    elif isinstance(exc, PermissionDenied):
        exc = exceptions.PermissionDenied()
    if not isinstance(exc, exceptions.APIException):
        return None
    set_rollback()
    found = list(_flat(exc.detail))
    if isinstance(exc, exceptions.ValidationError):
        detail = "; ".join(
            f"{field}: {message}" if field else message for field, message in found
        )
        listed = [{"field": field, "message": message} for field, message in found]
    else:
        detail, listed = " ".join(message for _, message in found), []
    answer = problem(exc.status_code, exc.default_code, detail, listed)
    for header in ("auth_header", "wait"):
        value = getattr(exc, header, None)
        if value:
            name = "WWW-Authenticate" if header == "auth_header" else "Retry-After"
            answer[name] = str(value)
    return answer


def problem(
    status: int, code: str, detail: str, found: list[dict[str, str]]
) -> Response:
    return Response(
        {
            "type": "about:blank",
            "title": TITLES.get(status, "Refused"),
            "status": status,
            "code": code.replace("_", "-"),
            "detail": detail,
            "errors": found,
        },
        status=status,
        content_type=CONTENT_TYPE,
    )


def _flat(detail: Any, path: str = "") -> Any:
    if isinstance(detail, dict):
        for name, inner in detail.items():
            if name == "non_field_errors":
                yield from _flat(inner, path)
            elif isinstance(name, int):  # a row of a list
                yield from _flat(inner, f"{path}[{name}]")
            else:
                yield from _flat(inner, f"{path}.{name}" if path else str(name))
    elif isinstance(detail, list):
        for number, inner in enumerate(detail):
            nested = isinstance(inner, dict | list)
            yield from _flat(inner, f"{path}[{number}]" if nested else path)
    else:
        yield path, str(detail)
