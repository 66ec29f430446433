"""A blanks question is read strictly; what is wrong is named by its path."""

from typing import Any

import pytest

from fabshop.errors import BadQuestion
from fabshop.reckoning.questions.blanks import blanks_question

GOOD: dict[str, Any] = {
    "sheets": [{"id": "M16", "length": 400, "width": 300}],
    "blanks": [{"id": "a", "length": 90, "width": 140, "count": 2}],
}


def test_what_is_left_out_has_its_default() -> None:
    asked = blanks_question(GOOD)
    assert (asked.kerf, asked.sheets[0].count, asked.blanks[0].grain) == (0, 1, "")


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"blanks": [{"id": "a", "length": 0, "width": 1}]}, "blanks[0].length"),
        ({"blanks": [{"id": "a", "length": 1}]}, "blanks[0]"),
        ({"sheets": [*GOOD["sheets"], *GOOD["sheets"]]}, "sheets[1].id"),
        ({"blanks": [{**GOOD["blanks"][0], "grain": "up"}]}, "blanks[0].grain"),
        ({"blanks": [{**GOOD["blanks"][0], "count": 61}]}, "blanks[0].count"),
        ({"kerf": -1}, "kerf"),
        ({"saw": 1}, "saw"),
    ],
)
def test_a_slip_is_named_by_its_path(changed: dict[str, Any], said: str) -> None:
    with pytest.raises(BadQuestion) as error:
        blanks_question(GOOD | changed)
    assert said in error.value.message


def test_more_than_can_be_planned_is_refused() -> None:
    many = [{"id": f"b{n}", "length": 1, "width": 1, "count": 31} for n in range(2)]
    with pytest.raises(BadQuestion, match="come to 62 in all; at most 60"):
        blanks_question(GOOD | {"blanks": many})
