"""What a cut list question refuses, by the field's path."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.errors import BadQuestion
from fabshop.reckoning.questions.cutlist import cutlist_question

GOOD: dict[str, Any] = {
    "stock": [{"id": "tube", "length": 1000}],
    "pieces": [{"id": "post", "length": 212.5, "count": 2}],
}


def test_what_is_left_out_has_its_default() -> None:
    asked = cutlist_question(GOOD)
    assert (asked.kerf, asked.end_trim, asked.keep_over) == (0, 0, 0)
    assert (asked.stock[0].count, asked.stock[0].cost) == (1, 0)
    assert asked.time_limit_s == 5


@pytest.mark.parametrize(
    ("change", "line"),
    [
        ({"kerf": -1}, "kerf: must be at least 0"),
        ({"kerf": float("nan")}, "kerf: must be at least 0"),
        ({"saw": 2}, "saw: unknown field"),
        ({"stock": None}, "stock: expected a list, got nothing (null)"),
        (
            {"stock": [{"id": "tube", "length": 0}]},
            "stock[0].length: must be more than 0",
        ),
        (
            {"stock": [{"id": "tube", "length": 9}, {"id": "tube", "length": 8}]},
            "stock[1].id: stock 'tube' is already stock[0]",
        ),
        (
            {"pieces": [{"id": "post", "length": 0.0001}]},
            "pieces[0].length: is less than a micrometre",
        ),
        (
            {"pieces": [{"id": "post", "length": 5, "count": None}]},
            "pieces[0].count: expected a whole number, got nothing (null)",
        ),
        (
            {"pieces": [{"id": n, "length": 5, "count": 2501} for n in "ab"]},
            "pieces: come to 5002 in all; at most 5000 can be planned",
        ),
        ({"time_limit_s": 0}, "time_limit_s: must be more than 0"),
    ],
)
def test_what_cannot_be_is_refused_by_name(change: dict[str, Any], line: str) -> None:
    with pytest.raises(BadQuestion) as refusal:
        cutlist_question({**GOOD, **change})
    assert refusal.value.message.startswith(line)
