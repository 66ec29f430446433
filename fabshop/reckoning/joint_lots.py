"""Which wishes of a cut list, and which joints, end up with two heat lots."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from fabshop.reckoning.facts import WishFact


def two_lots(
    bars: Iterable[Mapping[str, Any]], wishes: Mapping[str, WishFact]
) -> list[dict[str, Any]]:
    """Which wishes, and so which joints, come out of more than one heat lot."""
    lots: dict[str, dict[str, None]] = {}
    for bar in bars:
        for cut in bar["cuts"]:
            of_wish = lots.setdefault(cut["wish"], {})
            of_wish.setdefault(bar["heat_lot"] or "unknown")
    return [
        {"wish": name, "lots": sorted(seen), "joints": list(wishes[name].joints)}
        for name, seen in sorted(lots.items())
        if len(seen) > 1
    ]


def joint_lots(
    bars: Iterable[Mapping[str, Any]], onto_lots: Mapping[str, str]
) -> list[dict[str, Any]]:
    """The joints whose coped tube comes of another lot than their main tube is.

    A main whose lot nobody wrote down is not told: it may be the same.
    """
    return [
        {
            "joint": joint,
            "mark": cut["mark"],
            "cut": bar["heat_lot"] or "unknown",
            "onto": onto_lots[joint],
        }
        for bar in bars
        for cut in bar["cuts"]
        for joint in cut["joints"]
        if onto_lots.get(joint, "") not in ("", bar["heat_lot"])
    ]
