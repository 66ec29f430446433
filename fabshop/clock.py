"""The one place where the faces read the clock."""

from __future__ import annotations

from datetime import UTC, datetime

from django.conf import settings


def now() -> datetime:
    """This moment, aware, in UTC; the moment of FABSHOP_NOW where that is set."""
    return settings.NOW.astimezone(UTC) if settings.NOW else datetime.now(tz=UTC)
