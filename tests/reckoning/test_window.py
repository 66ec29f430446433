"""Moments along the windows agree with counting minutes one by one."""

from __future__ import annotations

import random
from datetime import timedelta

from fabshop.reckoning.facts import Span
from fabshop.reckoning.window import Bench
from tests.reckoning.facts_for import NOW, at, evenings, span

MINUTE = timedelta(minutes=1)


def test_work_goes_on_in_the_next_window():
    bench = Bench(evenings(2), NOW)
    assert bench.end_of(at(0, 20), 90) == at(1, 18, 30)
    assert bench.end_of(at(0, 20), 60) == at(0, 21)
    assert bench.end_of(at(0, 22), 1) == at(1, 18, 1)


def test_work_past_the_last_window_ends_nobody_knows_when():
    bench = Bench(evenings(1), NOW)
    assert bench.end_of(NOW, 180) == at(0, 21)
    assert bench.end_of(NOW, 181) is None
    assert Bench((), NOW).end_of(NOW, 1) is None
    assert Bench((), NOW).next_start(NOW) is None


def test_no_work_takes_no_time_even_out_of_hours():
    bench = Bench((), NOW)
    assert bench.end_of(NOW, 0) == NOW
    assert bench.latest_start(NOW, 0) == NOW


def test_the_latest_start_is_worked_back_over_the_night():
    bench = Bench(evenings(3), NOW)
    assert bench.latest_start(at(1, 19), 90) == at(0, 20, 30)
    assert bench.latest_start(at(1, 12), 180) == at(0, 18)
    assert bench.latest_start(at(1, 12), 181) is None


def test_windows_that_touch_or_overlap_are_one():
    bench = Bench([span(0, 19, 21), span(0, 18, 19), span(0, 20, 22)], NOW)
    assert bench.spans == (span(0, 18, 22),)


def test_what_is_over_by_the_start_does_not_count():
    bench = Bench([span(0, 8, 12), span(0, 16, 18)], NOW)
    assert bench.spans == (Span(NOW, at(0, 18)),)
    assert bench.open_at(NOW) == Span(NOW, at(0, 18))
    assert bench.open_at(at(0, 18)) is None


def test_random_windows_agree_with_counting_minutes():
    for seed in range(60):
        chance = random.Random(seed)
        spans, clock = [], NOW
        for _ in range(chance.randint(1, 4)):
            start = clock + chance.randint(0, 40) * MINUTE
            clock = start + chance.randint(1, 50) * MINUTE
            spans.append(Span(start, clock))
        bench = Bench(spans, NOW)
        minutes = [
            NOW + n * MINUTE
            for n in range(400)
            if any(s.start <= NOW + n * MINUTE < s.end for s in spans)
        ]
        work = chance.randint(1, 60)
        moment = NOW + chance.randint(0, 200) * MINUTE
        later = [minute for minute in minutes if minute >= moment]
        end = later[work - 1] + MINUTE if len(later) >= work else None
        assert bench.end_of(moment, work) == end, seed
        before = [minute for minute in minutes if minute < moment]
        start_by = before[-work] if len(before) >= work else None
        assert bench.latest_start(moment, work) == start_by, seed
        assert bench.next_start(moment) == (later[0] if later else None), seed
