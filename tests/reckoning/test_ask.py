"""The one door: plain data in, plain data out."""

from __future__ import annotations

import json

import pytest

from fabshop.errors import BadQuestion
from fabshop.reckoning.ask import ANSWERS, reckon
from fabshop.reckoning.questions import KINDS
from tests.reckoning.teardown.asked import asked


def test_every_kind_that_is_answered_can_be_read() -> None:
    assert set(ANSWERS) <= set(KINDS)


def test_an_answer_is_plain_data() -> None:
    answer = reckon("teardown", asked())
    assert json.loads(json.dumps(answer)) == answer


def test_an_unknown_kind_is_refused_in_one_line() -> None:
    with pytest.raises(BadQuestion, match="^kind: no question 'weather'"):
        reckon("weather", {})
