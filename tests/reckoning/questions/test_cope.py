"""What a cope question refuses, by the field's path."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.errors import BadQuestion
from fabshop.reckoning.questions.cope import cope_question

GOOD: dict[str, Any] = {
    "branch": {"od": 6, "wall": 0.9},
    "main": {"od": 8},
    "angle": 60,
}


@pytest.mark.parametrize(
    ("change", "line"),
    [
        ({"angle": 0}, "angle: 0 is not over 0 and up to 90 degrees"),
        ({"angle": 5e-324}, "angle: is less than a thousandth of a degree"),
        ({"angle": 91}, "angle: 91 is not over 0 and up to 90 degrees"),
        ({"angle": float("nan")}, "angle: nan is not over 0 and up to 90 degrees"),
        (
            {"branch": {"od": 6, "wall": 3.1}},
            "branch.wall: a wall of 3.1 passes the radius 3",
        ),
        (
            {"offset": 1.5},
            "offset: the branch runs off the main tube's side: 1.5 + 3 is more than "
            "its radius 4",
        ),
        ({"twist": 4}, "twist: unknown field"),
        ({"main": {"od": "8"}}, "main.od: expected a number, got a text"),
    ],
)
def test_what_cannot_be_is_refused_by_name(change: dict[str, Any], line: str) -> None:
    with pytest.raises(BadQuestion) as refusal:
        cope_question({**GOOD, **change})
    assert refusal.value.message == line
