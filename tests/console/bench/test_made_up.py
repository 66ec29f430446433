"""Made-up questions are questions, and the same every time."""

from __future__ import annotations

import pytest

from fabshop.console.bench.made_up import teardown_question
from fabshop.reckoning.questions import parse


@pytest.mark.parametrize("size", [(1, 1, 1), (61, 15, 1), (150, 60, 2), (300, 120, 3)])
def test_a_made_up_question_is_a_question(size: tuple[int, int, int]) -> None:
    question = parse("teardown", teardown_question(*size, seed=3))
    assert (len(question.components), len(question.tasks)) == size[:2]


def test_the_same_seed_gives_the_same_question_and_another_another() -> None:
    assert teardown_question(20, 6, 1, 4) == teardown_question(20, 6, 1, 4)
    assert teardown_question(20, 6, 1, 4) != teardown_question(20, 6, 1, 5)
