"""Made-up shops are questions, and the same every time."""

from __future__ import annotations

from fabshop.console.bench.made_up_shop import shop_question
from fabshop.reckoning.questions import parse


def test_a_made_up_shop_is_a_question_of_its_size() -> None:
    question = parse("schedule", shop_question(150, 40, 1.3, 0))
    assert len(question.activities) == 150
    me, helper, *machines = question.resources
    assert (len(me.windows), len(helper.windows), len(machines)) == (40, 14, 3)
    assert question.deadline == "2031-06-14T00:00"


def test_the_same_seed_gives_the_same_shop_and_another_another() -> None:
    assert shop_question(20, 10, 1, 4) == shop_question(20, 10, 1, 4)
    assert shop_question(20, 10, 1, 4) != shop_question(20, 10, 1, 5)
