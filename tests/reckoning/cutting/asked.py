"""Cut list questions for the tests: published ones, and random ones of a few pieces."""

from __future__ import annotations

import random
from collections.abc import Mapping
from typing import Any

from fabshop.reckoning.cutting.problem import Problem, problem_of
from fabshop.reckoning.questions.cutlist import cutlist_question

# The 5600 mm rolls of the encyclopedia article "Cutting stock problem": 73 are best.
ROLLS = {
    **{1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20},
    **{2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20},
}


def one_length(length: float, wanted: Mapping[Any, int], **more: Any) -> dict[str, Any]:
    """As many bars of one length as needed."""
    return {
        "stock": [{"id": "bar", "length": length, "count": None}],
        "pieces": [
            {"id": f"p{each}", "length": each, "count": count}
            for each, count in wanted.items()
        ],
        **more,
    }


def compiled(asked: dict[str, Any]) -> Problem:
    return problem_of(cutlist_question(asked))


def small_case(seed: int) -> dict[str, Any]:
    """Up to five pieces and four bars, with every field in play."""
    chance = random.Random(f"cut {seed}")
    stock: list[dict[str, Any]] = [
        {
            "id": f"s{number}",
            "length": chance.choice((30, 45, 60.5, 80, 100)),
            "count": chance.choice((1, 1, 2)),
            "cost": chance.choice((0, 0, 1, 2.5)),
        }
        for number in range(chance.randint(1, 2))
    ]
    pieces = [
        {"id": f"p{number}", "length": chance.randint(8, 62), "count": 1}
        for number in range(chance.randint(1, 5))
    ]
    return {
        "kerf": chance.choice((0, 1, 1.5)),
        "end_trim": chance.choice((0, 0, 2)),
        "keep_over": chance.choice((0, 10)),
        "stock": stock,
        "pieces": pieces,
        "time_limit_s": 30,
    }
