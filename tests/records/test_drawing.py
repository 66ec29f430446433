"""What may never be true of drawings and of what is measured against them."""

from __future__ import annotations

import pytest

from fabshop import words
from tests.factories import (
    CheckDecisionFactory,
    DrawingFactory,
    DrawingSentFactory,
    MeasuredCheckFactory,
)
from tests.records.refused import refused

pytestmark = pytest.mark.django_db


def test_a_drawing_is_of_a_file() -> None:
    with refused("drawing_is_of_a_file"):
        DrawingFactory(file_name="")


def test_a_drawing_is_of_a_left_a_right_or_neither() -> None:
    with refused("drawing_hand_known"):
        DrawingFactory(hand="X")


def test_a_drawing_goes_out_once_with_a_sending() -> None:
    sent = DrawingSentFactory()
    with refused():
        DrawingSentFactory(drawing=sent.drawing, sending=sent.sending)


def test_the_lower_limit_lies_below_the_upper_one() -> None:
    with refused("check_lower_below_upper"):
        MeasuredCheckFactory(
            lower_um=300, upper_um=-300, verdict="too-small", reading_um=40_000
        )


@pytest.mark.parametrize(
    ("reading_um", "verdict"),
    [(40_301, "within"), (40_300, "too-big"), (39_699, "within"), (40_000, "fine")],
)
def test_a_verdict_that_does_not_follow_from_the_reading_is_refused(
    reading_um: int, verdict: str
) -> None:
    with refused("check_verdict_follows_from_reading"):
        MeasuredCheckFactory(reading_um=reading_um, verdict=verdict)


def test_a_limit_itself_is_within() -> None:
    MeasuredCheckFactory(reading_um=40_300, verdict="within")


def test_limits_come_from_somewhere() -> None:
    with refused("check_says_its_source"):
        MeasuredCheckFactory(source="")


def test_a_tolerance_is_a_known_one() -> None:
    with refused("check_tolerance_known"):
        MeasuredCheckFactory(tolerance="iso-1")


def test_living_with_it_says_why() -> None:
    with refused("check_living_with_it_says_why"):
        CheckDecisionFactory(how=words.CheckDecision.LIVE_WITH)


def test_a_decision_is_a_known_one() -> None:
    with refused("check_decision_known"):
        CheckDecisionFactory(how="shrug")
