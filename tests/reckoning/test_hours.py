"""Factors are what the log says, once enough is logged; what is left follows."""

from __future__ import annotations

import pytest

from fabshop import words
from fabshop.reckoning.hours import factors, hours_summary, minutes_left
from tests.reckoning.facts_for import at, done, evenings, finished, shop, task


def test_a_factor_bites_from_the_fifth_finished_task():
    four = factors(finished("welding", 66, 72, 78, 84))["welding"]
    assert (four.factor, four.bites, four.finished) == (1.0, False, 4)
    five = factors(finished("welding", 66, 72, 78, 84, 90))["welding"]
    assert (five.factor, five.bites, five.finished) == (1.3, True, 5)
    assert (five.lowest, five.highest) == (1.1, 1.5)


def test_a_factor_sums_before_it_divides():
    told = [*finished("other", 10, estimated=5), *finished("other", 100, estimated=95)]
    assert factors(told, bites_after=2)["other"].factor == pytest.approx(1.1)


def test_tasks_without_a_guess_or_without_a_log_teach_nothing():
    told = [*finished("other", 0, 0, 0, 0), *finished("other", 30, estimated=0)]
    assert factors(told) == {}


@pytest.mark.parametrize(
    ("hours", "family", "minutes"),
    # The tasks of the demo's teardown: hours guessed, family, whole minutes.
    [
        (0.8, "other", 53),
        (0.7, "wiring", 50),
        (2.4, "wiring", 173),
        (0.6, "wiring", 43),
        (0.6, "composite", 50),
        (1.6, "other", 106),
        (0.4, "other", 26),
        (0.3, "other", 20),
        (0.7, "composite", 59),
        (1.5, "other", 99),
        (0.5, "other", 33),
        (2.4, "other", 158),
    ],
)
def test_minutes_are_factored_and_rounded_half_up(hours, family, minutes):
    told = [
        *finished("composite", 70, 80, 84, 90, 96),
        *finished("wiring", 60, 66, 72, 78, 84),
        *finished("other", 54, 60, 66, 72, 78),
    ]
    guess = task("A", family=family, minutes=round(hours * 60))
    assert minutes_left(guess, factors(told)) == minutes


def test_half_a_minute_rounds_up():
    known = factors(finished("other", 66, 66, 66, 66, 66))
    assert minutes_left(task("A", minutes=5), known) == 6  # 5.5


def test_what_a_person_says_is_left_wins_unfactored():
    known = factors(finished("other", 120, 120, 120, 120, 120))
    assert minutes_left(task("A", minutes=60, left=10, logged=500), known) == 10
    assert minutes_left(task("A", minutes=60, left=0), known) == 0


def test_the_log_is_taken_off_the_guess_but_some_is_always_left():
    assert minutes_left(task("A", minutes=60, logged=45), {}) == 15
    assert minutes_left(task("A", minutes=60, logged=90), {}) == 5
    assert minutes_left(task("A", minutes=3, logged=90), {}) == 3


def test_nothing_is_left_of_what_is_finished():
    given_up = task("B", state=words.TaskState.GIVEN_UP)
    assert [minutes_left(t, {}) for t in (done("A"), given_up)] == [0, 0]


def test_hours_are_counted_up_to_the_last_pack_out_and_from_now():
    facts = shop(
        [task("A", minutes=61), task("B", build="", minutes=61), done("C")],
        windows=evenings(30),
        finished=tuple(finished("other", 90, 90, 90, 90, 90)),
        now=at(0, 19),
    )
    summary = hours_summary(facts)
    # Tonight's last two hours and eleven evenings; the twelfth is past pack-out.
    assert summary.calendar_minutes == 2 * 60 + 11 * 180
    assert summary.first_guess_minutes == {"buggy": 61, "": 61}
    assert summary.factored_minutes == 183  # 91.5 twice, rounded once
    assert summary.factored_by_build == {"buggy": 92, "": 92}


def test_no_hours_and_no_pack_out_divide_nothing_by_nothing():
    summary = hours_summary(shop(windows=(), builds=()))
    assert (summary.calendar_minutes, summary.first_guess_total) == (0, 0)
