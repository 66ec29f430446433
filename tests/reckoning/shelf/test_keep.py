"""Until when a consumable is good; what nobody knows is never called good."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fabshop.reckoning.facts import ConsumableFact
from fabshop.reckoning.shelf import keeps_on, last_good_day
from fabshop.words import Keeps
from tests.reckoning.facts_for import TODAY, day
from tests.reckoning.shelf.shelf_for import resin


@pytest.mark.parametrize(
    ("thing", "on", "keeps"),
    [
        (resin(), day(30), Keeps.GOOD),
        (resin(), day(31), Keeps.GOES_OFF_FIRST),
        (resin(use_by_on=day(-1)), day(0), Keeps.GONE_OFF),
        (resin(use_by_on=day(0)), day(0), Keeps.GOOD),
        (resin(), None, Keeps.UNKNOWN),
        (resin(use_by_on=day(-3)), None, Keeps.GONE_OFF),
        (resin(use_by_on=None, is_lasting=True), None, Keeps.LASTING),
    ],
)
def test_a_last_good_day_lies_to_the_day_of_use(
    thing: ConsumableFact, on: object, keeps: Keeps
) -> None:
    assert keeps_on(thing, on, TODAY) is keeps  # type: ignore[arg-type]


def test_opened_it_keeps_as_long_as_its_opened_life_if_that_is_shorter() -> None:
    opened = resin(is_opened=True, opened_on=day(-20), opened_life_days=21)
    assert last_good_day(opened) == day(1)
    assert keeps_on(opened, day(2), TODAY) is Keeps.GOES_OFF_FIRST
    outlived = resin(is_opened=True, opened_on=day(-2), opened_life_days=400)
    assert last_good_day(outlived) == day(30)


@pytest.mark.parametrize(
    "thing",
    [
        resin(use_by_on=None),
        resin(use_by_on=None, is_opened=True, opened_on=day(-9)),
        resin(is_opened=True, opened_life_days=14),
    ],
)
def test_unknown_dates_are_unknown_and_not_fine(thing: ConsumableFact) -> None:
    """Row 45: use-by unknown, or opened on a day that nobody wrote down."""
    assert keeps_on(thing, day(1), TODAY) is Keeps.UNKNOWN


def test_opened_on_an_unknown_day_it_still_does_not_outlast_its_use_by_day() -> None:
    thing = resin(is_opened=True, opened_life_days=14, use_by_on=day(-1))
    assert keeps_on(thing, day(0), TODAY) is Keeps.GONE_OFF


@given(
    use_by=st.none() | st.integers(-50, 50),
    opened=st.none() | st.integers(-50, 0),
    life=st.none() | st.integers(0, 60),
    on=st.integers(0, 60),
)
def test_it_is_good_only_where_every_known_day_says_so(
    use_by: int | None, opened: int | None, life: int | None, on: int
) -> None:
    thing = resin(
        use_by_on=None if use_by is None else day(use_by),
        is_opened=opened is not None,
        opened_on=None if opened is None else day(opened),
        opened_life_days=life,
    )
    ends = [] if use_by is None else [day(use_by)]
    if opened is not None and life is not None:
        ends.append(day(opened) + timedelta(days=life))
    is_good = bool(ends) and all(day(on) <= end for end in ends)
    assert (keeps_on(thing, day(on), TODAY) is Keeps.GOOD) == is_good
