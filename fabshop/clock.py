"""The one place where the faces read the clock."""

from __future__ import annotations

from datetime import UTC, datetime


def now() -> datetime:
    """This moment, aware, in UTC."""
    return datetime.now(tz=UTC)
