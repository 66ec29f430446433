"""Checklists at a moment: what is open, what runs, what has gone stale."""

from __future__ import annotations

from datetime import datetime, timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from fabshop.reckoning.prep import StepFact, TickFact, prep_of
from fabshop.words import PrepDoes, PrepKind, PrepStage

NOW = datetime(2027, 9, 3, 19, 0)
EIGHT_HOURS = 480
STEPS = (
    StepFact(1, "Degreased", PrepStage.TACK, is_stop=True),
    StepFact(2, "Gap", PrepStage.TACK, PrepKind.NUMBER),
    StepFact(3, "Wiped", PrepStage.TACK, does=PrepDoes.CLEANS, is_stop=True),
    StepFact(4, "Purge", PrepStage.WELD, PrepKind.MINUTES, PrepDoes.PURGES, True),
    StepFact(5, "Cooled", PrepStage.LOOK, is_stop=True),
)


def at(minutes: int) -> datetime:
    return NOW + timedelta(minutes=minutes)


def open_at(ticks: list[TickFact], stage: PrepStage, now: datetime = NOW) -> list[int]:
    prep = prep_of(STEPS, ticks, now, clean_minutes=EIGHT_HOURS)
    return [stand.step.number for stand in prep.open_stops(stage)]


def test_stops_of_earlier_stages_bar_the_later_ones_too() -> None:
    assert open_at([], PrepStage.TACK) == [1, 3]
    assert open_at([], PrepStage.LOOK) == [1, 3, 4, 5]
    # The gap is asked, and stops nothing.
    assert open_at([TickFact(1, NOW), TickFact(3, NOW)], PrepStage.TACK) == []


def test_a_step_said_not_to_be_done_after_all_is_open_again() -> None:
    ticks = [TickFact(1, at(-9)), TickFact(3, at(-8)), TickFact(1, at(-1), False)]
    assert open_at(ticks, PrepStage.TACK) == [1]
    # Sent late, but ticked before: the later word stands.
    assert open_at([*ticks, TickFact(1, at(-5))], PrepStage.TACK) == [1]


def test_a_purge_is_done_when_its_minutes_are_over_on_whatever_phone() -> None:
    ticks = [TickFact(1, NOW), TickFact(3, NOW), TickFact(4, NOW, minutes=4)]
    assert open_at(ticks, PrepStage.WELD, at(3)) == [4]
    prep = prep_of(STEPS, ticks, at(3), clean_minutes=EIGHT_HOURS)
    assert prep.stands[3].is_running
    assert prep.stands[3].ends_at == at(4)
    assert open_at(ticks, PrepStage.WELD, at(4)) == []


def test_a_figure_is_given_or_it_is_not_done() -> None:
    for value, is_done in ((None, False), (Decimal("0.3"), True), (Decimal(0), True)):
        ticks = [TickFact(2, NOW, value=value)]
        prep = prep_of(STEPS, ticks, NOW, clean_minutes=EIGHT_HOURS)
        assert prep.stands[1].is_done is is_done


def test_cleaning_goes_stale_and_is_fresh_when_it_is_done_again() -> None:
    ticks = [TickFact(3, at(-EIGHT_HOURS))]
    prep = prep_of(STEPS, ticks, NOW, clean_minutes=EIGHT_HOURS)
    assert not prep.is_stale
    assert prep.stale_at == NOW
    later = prep_of(STEPS, ticks, at(1), clean_minutes=EIGHT_HOURS)
    assert later.is_stale
    again = [*ticks, TickFact(3, NOW)]
    assert not prep_of(STEPS, again, at(1), clean_minutes=EIGHT_HOURS).is_stale
    assert prep_of(STEPS, [], NOW, clean_minutes=EIGHT_HOURS).stale_at is None


@given(
    st.lists(
        st.tuples(st.integers(1, 5), st.integers(-60, 0), st.booleans()), max_size=12
    )
)
def test_only_the_latest_word_on_a_step_counts(
    said: list[tuple[int, int, bool]],
) -> None:
    ticks = [
        TickFact(step, at(minute), done, minutes=0, value=Decimal(1))
        for step, minute, done in said
    ]
    prep = prep_of(STEPS, ticks, NOW, clean_minutes=EIGHT_HOURS)
    for stand in prep.stands:
        mine = [one for one in said if one[0] == stand.step.number]
        last = max(mine, key=lambda one: one[1], default=None)
        ties = [one for one in mine if last and one[1] == last[1]]
        assert stand.is_done == (bool(ties) and ties[-1][2])
