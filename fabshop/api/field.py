"""The fields that several nouns of the API share."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from rest_framework import serializers
from rest_framework.request import Request


class Code(serializers.SlugRelatedField[Any]):
    """Another record by its code; one with a NUL is nobody's, on either database."""

    def to_internal_value(self, data: Any) -> Any:
        if isinstance(data, str) and "\x00" in data:
            self.fail("invalid")
        return super().to_internal_value(data)


class Milli(serializers.DecimalField):
    """Thousandths in the record, a decimal number of units on the wire."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(
            max_digits=10, decimal_places=3, coerce_to_string=False, **kwargs
        )

    def to_representation(self, value: int) -> float:
        return value / 1000

    def to_internal_value(self, data: Any) -> int:
        return int(Decimal(super().to_internal_value(data)) * 1000)


def checked(
    kind: type[serializers.Serializer[Any]], request: Request
) -> dict[str, Any]:
    """What was sent, strictly read: unknown fields are refused by name."""
    reader = kind(data=request.data)
    reader.is_valid(raise_exception=True)
    unknown = sorted(set(request.data) - set(reader.fields))
    if unknown:
        raise serializers.ValidationError(
            {name: "There is no such field here." for name in unknown}
        )
    return dict(reader.validated_data)
