"""Two at once are counted once on the clock, in whatever order they are told."""

from __future__ import annotations

from datetime import datetime, timedelta

from hypothesis import given
from hypothesis import strategies as some

from fabshop.reckoning.elapsed import elapsed_minutes

START = datetime(2027, 9, 3, 6, 45)


def test_two_people_on_one_task_for_an_hour_are_an_hour_on_the_clock() -> None:
    end = START + timedelta(minutes=60)
    assert elapsed_minutes([(end, 60), (end, 60)]) == 60
    assert elapsed_minutes([(end, 60), (end + timedelta(minutes=20), 40)]) == 80
    assert elapsed_minutes([]) == 0


SPANS = some.lists(some.tuples(some.integers(0, 600), some.integers(0, 200)))


@given(spans=SPANS, order=some.randoms(use_true_random=False))
def test_it_is_the_count_of_minutes_that_any_span_covers(
    spans: list[tuple[int, int]], order: object
) -> None:
    covered = {m for begin, long in spans for m in range(begin, begin + long)}
    told = [(START + timedelta(minutes=b + long), long) for b, long in spans]
    order.shuffle(told)  # type: ignore[attr-defined]
    assert elapsed_minutes(told) == len(covered)
