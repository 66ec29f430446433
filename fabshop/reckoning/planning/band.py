"""The picture of hours: what the plan still wants, with its doubt, and what is left."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from fabshop.units import show_day

WIDE, HIGH = 360, 220
_LEFT, _TOP, _RIGHT, _BOTTOM = 40, 10, 10, 30


@dataclass(frozen=True)
class Mark:
    """A line across or along the picture, with its label."""

    at: float
    label: str


@dataclass(frozen=True)
class Picture:
    """Points of the drawing, in its own units, ready for an SVG.

    `band` is a closed shape between one run of ten and nine of ten, `middle` the half;
    `there` the hours there are until the deadline.
    """

    wide: int
    high: int
    left: float
    right: float
    bottom: float
    band: str
    middle: str
    there: str
    hours: tuple[Mark, ...]
    days: tuple[Mark, ...]
    says: str


def picture(rows: list[dict[str, Any]]) -> Picture | None:
    """The band as shapes; None where there is nothing to draw."""
    known = [row for row in rows if row["available"] is not None]
    if len(known) < 2:
        return None
    moments = [datetime.fromisoformat(row["at"]) for row in known]
    most = max(max(row["p90"], row["available"]) for row in known) or 1
    span = (moments[-1] - moments[0]).total_seconds() or 1

    def across(at: datetime) -> float:
        share = (at - moments[0]).total_seconds() / span
        return round(_LEFT + share * (WIDE - _LEFT - _RIGHT), 1)

    def up(minutes: int) -> float:
        return round(HIGH - _BOTTOM - minutes / most * (HIGH - _TOP - _BOTTOM), 1)

    def line(part: str) -> list[str]:
        pairs = zip(moments, known, strict=True)
        return [f"{across(at)},{up(row[part])}" for at, row in pairs]

    step = max(1, -(-len(moments) // 6))
    return Picture(
        wide=WIDE,
        high=HIGH,
        left=_LEFT,
        right=WIDE - _RIGHT,
        bottom=HIGH - _BOTTOM,
        band=" ".join([*line("p90"), *reversed(line("p10"))]),
        middle=" ".join(line("p50")),
        there=" ".join(line("available")),
        hours=tuple(Mark(up(hours * 60), f"{hours} h") for hours in _hours(most)),
        days=tuple(
            Mark(across(at), show_day(at.date())[4:]) for at in moments[1:-1:step]
        ),
        says=_says(known),
    )


def _hours(most: int) -> list[int]:
    step = next(n for n in (1, 2, 5, 10, 20, 50, 100, 1000) if n * 60 * 5 >= most)
    return list(range(0, most // 60 + 1, step))


def _says(known: list[dict[str, Any]]) -> str:
    """The picture in words."""
    tight = [row for row in known[:-1] if row["p90"] > row["available"]]
    if not tight:
        return "In nine runs of ten the hours suffice on every day."
    on = datetime.fromisoformat(tight[0]["at"])
    begins = f"From {show_day(on.date())} on"
    return f"{begins}, one run in ten wants more hours than there are."
