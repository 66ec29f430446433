"""What a balance question refuses, by the field's path."""

from __future__ import annotations

import pytest

from fabshop.errors import BadQuestion
from fabshop.reckoning.questions.balance import balance_question


@pytest.mark.parametrize(
    ("question", "start"),
    [
        ({"wheelbase": 0, "parts": []}, "wheelbase: "),
        ({"wheelbase": 5e-324, "parts": []}, "wheelbase: is less than a micrometre"),
        ({"wheelbase": 330}, "parts: missing"),
        ({"wheelbase": 330, "parts": [{"id": "a"}]}, "parts[0].x: missing"),
        (
            {"wheelbase": 330, "parts": [{"id": "a", "x": 1, "mass": -2}]},
            "parts[0].mass: ",
        ),
        ({"wheelbase": 330, "parts": [], "g": 1}, "g: unknown field"),
    ],
)
def test_what_cannot_be_is_refused_by_name(question: object, start: str) -> None:
    with pytest.raises(BadQuestion) as refusal:
        balance_question(question)
    assert refusal.value.message.startswith(start)
