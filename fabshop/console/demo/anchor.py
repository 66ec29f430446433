"""Where the demo shop's tables lie, and the whole days by which they are moved."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

TABLES = Path(__file__).resolve().parents[3] / "fixtures" / "demo"


@dataclass(frozen=True)
class Anchor:
    """Moves every day of the tables by the same whole days; the clock stays."""

    zone: ZoneInfo
    shift: timedelta

    def day(self, text: str) -> date:
        return date.fromisoformat(text) + self.shift

    def moment(self, text: str) -> datetime:
        wall = datetime.fromisoformat(text) + self.shift
        return wall.replace(tzinfo=self.zone).astimezone(UTC)


def table(name: str) -> dict[str, Any]:
    told: dict[str, Any] = json.loads((TABLES / f"{name}.json").read_text("utf-8"))
    return told
