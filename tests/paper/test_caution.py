"""Cautions stand where work can hurt somebody, and only there."""

from __future__ import annotations

import pytest

from fabshop import words
from fabshop.paper.caution import (
    CELLS,
    DEFER,
    PAINT,
    RESIN,
    WELDING,
    cautions_for,
    protection_for,
)
from fabshop.reckoning.facts import StageFact, TaskFact

CURE = (StageFact(words.StageKind.CURE, 600),)


def task(**fields: object) -> TaskFact:
    told = {"id": "W1", "build": "b", "title": "Fit it", **fields}
    return TaskFact(**told)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("told", "expected"),
    [
        ({}, [CELLS, DEFER]),
        ({"family": "composite"}, [CELLS, RESIN, DEFER]),
        ({"stages": CURE}, [CELLS, RESIN, DEFER]),
        ({"family": "welding"}, [CELLS, WELDING, DEFER]),
        ({"title": "Grind and paint the post"}, [CELLS, PAINT, DEFER]),
    ],
)
def test_each_danger_has_its_sentence(
    told: dict[str, object], expected: list[str]
) -> None:
    assert cautions_for([task(**told)]) == expected


def test_without_a_battery_none_is_spoken_of() -> None:
    assert cautions_for([task()], battery=False) == [DEFER]


def test_protection_follows_the_dangers() -> None:
    assert protection_for([task()]) == ["eye protection"]
    assert protection_for([task(stages=CURE), task(family="welding")]) == [
        "eye protection",
        "gloves",
        "mask",
        "welding mask and gauntlets",
    ]
