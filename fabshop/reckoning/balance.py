"""Mass and where it sits: the sum of the parts that are known."""

from __future__ import annotations

from math import fsum
from typing import Any

from fabshop.reckoning.questions.balance import BalanceQuestion


def balance(question: BalanceQuestion) -> dict[str, Any]:
    """Total grams, centre of mass in mm, and the share that the front axle carries.

    The centre is the mean of the places weighted by mass; the front share is its
    distance forward of the rear axle over the wheelbase. A part without a mass is
    named in `unknown`. Without any known mass there is no centre: null.
    """
    known = [part for part in question.parts if part.mass is not None]
    weights = [(part, (part.mass or 0.0) * part.count) for part in known]
    total = fsum(grams for _, grams in weights)

    def centre(axis: str) -> float | None:
        if not total:
            return None
        return fsum(grams * getattr(part, axis) for part, grams in weights) / total

    x = centre("x")
    return {
        "mass": total,
        "x": x,
        "y": centre("y"),
        "z": centre("z"),
        "front_share": None if x is None else x / question.wheelbase,
        "unknown": [part.id for part in question.parts if part.mass is None],
    }
