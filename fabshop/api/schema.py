"""Adds the one error shape to every operation of the OpenAPI description."""

from __future__ import annotations

from typing import Any

from fabshop.api.problem import CONTENT_TYPE, TITLES

_TEXT = {"type": "string"}
_PROBLEM = {
    "type": "object",
    "description": "Problem details, RFC 9457; `code` is what programs go by.",
    "properties": {
        "type": _TEXT,
        "title": _TEXT,
        "status": {"type": "integer"},
        "code": _TEXT,
        "detail": _TEXT,
        "errors": {
            "type": "array",
            "items": {
                "type": "object",
                "properties": {"field": _TEXT, "message": _TEXT},
                "required": ["field", "message"],
            },
        },
    },
    "required": ["type", "title", "status", "code", "detail", "errors"],
}
_KEY = {
    "name": "Idempotency-Key",
    "in": "header",
    "description": "The same key again gets the first answer; nothing is done twice.",
    "schema": {"type": "string", "minLength": 1, "maxLength": 200},
}
_WRITES = ("post", "put", "patch", "delete")


def with_problems(result: dict[str, Any], **kwargs: Any) -> dict[str, Any]:
    """Every operation may answer with a problem; every write takes a key."""
    components = result.setdefault("components", {}).setdefault("schemas", {})
    components["Problem"] = _PROBLEM
    answer = {"$ref": "#/components/schemas/Problem"}
    for operations in result["paths"].values():
        for method, operation in operations.items():
            for status in TITLES:
                operation["responses"].setdefault(
                    str(status),
                    {
                        "description": TITLES[status],
                        "content": {CONTENT_TYPE: {"schema": answer}},
                    },
                )
            if method in _WRITES:
                operation.setdefault("parameters", []).append(_KEY)
    return result
