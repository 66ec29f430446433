"""Balance against worked examples of weight and balance handbooks."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.errors import BadQuestion
from fabshop.reckoning.balance import balance
from fabshop.reckoning.questions.balance import balance_question


def asked(wheelbase: float, *parts: dict[str, Any]) -> dict[str, Any]:
    return balance(balance_question({"wheelbase": wheelbase, "parts": list(parts)}))


def test_the_nose_wheel_example_of_the_faa_handbook() -> None:
    # FAA-H-8083-1: 340 lb on a nose wheel 78 in ahead of the mains, 2006 lb in all:
    # the centre is 340 x 78 / 2006 = 13.2203 in ahead of the mains.
    answer = asked(
        78, {"id": "nose", "mass": 340, "x": 78}, {"id": "mains", "mass": 1666, "x": 0}
    )
    assert answer["mass"] == 2006
    assert answer["x"] == pytest.approx(13.2203, abs=5e-5)
    assert answer["front_share"] == pytest.approx(340 / 2006)


def test_the_nose_and_two_mains_of_a_licence_question() -> None:
    # Nose 285, mains 1465 + 1395 kg, wheelbase 92 in: 8.3 in ahead of the mains
    # (atplquestions.com, mass and balance 18).
    answer = asked(
        92,
        {"id": "nose", "mass": 285, "x": 92},
        {"id": "left", "mass": 1465, "x": 0, "y": 40},
        {"id": "right", "mass": 1395, "x": 0, "y": -40},
    )
    assert answer["x"] == pytest.approx(8.3, abs=0.05)
    assert answer["y"] == pytest.approx(40 * 70 / 3145)


def test_a_part_without_a_mass_is_named_and_not_counted_as_nothing() -> None:
    answer = asked(
        330,
        {"id": "pack", "mass": 120, "count": 2, "x": 150, "z": 40},
        {"id": "?", "x": 9},
    )
    assert answer == {
        "mass": 240,
        "x": 150,
        "y": 0,
        "z": 40,
        "front_share": pytest.approx(150 / 330),
        "unknown": ["?"],
    }


def test_nothing_known_has_no_centre() -> None:
    assert asked(330, {"id": "?", "x": 9})["x"] is None


def test_two_parts_of_one_name_are_refused() -> None:
    part = {"id": "a", "mass": 1, "x": 0}
    with pytest.raises(BadQuestion, match=r"parts\[1\].id: part 'a' is already"):
        asked(330, part, part)
