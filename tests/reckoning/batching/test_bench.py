"""Row 75 of the bad input: two builds want the same hour of one bench."""

from __future__ import annotations

from fabshop.reckoning.batching import Taken, teardown_batch
from fabshop.reckoning.batching.bench import less_taken
from fabshop.reckoning.facts import Span
from tests.reckoning.facts_for import at, component, shop, span, task


def test_what_is_taken_is_cut_out_of_the_windows() -> None:
    windows = [span(0, 18, 21), span(1, 18, 21), span(2, 18, 21)]
    night = Taken(Span(at(0, 20), at(1, 19)), "Wren")
    inside = Taken(Span(at(2, 19), at(2, 20)), "Wren")
    assert less_taken(windows, [night, inside]) == [
        span(0, 18, 20),
        span(1, 19, 21),
        span(2, 18, 19),
        span(2, 20, 21),
    ]
    assert less_taken(windows, [Taken(span(0, 18, 21), "Wren")]) == windows[1:]
    assert less_taken(windows, []) == windows


def test_row_75_the_hours_of_another_builds_teardown_are_not_asked_for() -> None:
    facts = shop([task("A", in_teardown=True)], [component("lid")])
    whole = teardown_batch(facts, "buggy").question["windows"]
    first = facts.windows[0]
    batch = teardown_batch(facts, "buggy", taken=(Taken(first, "Wren, edition A,"),))
    assert batch.question["windows"] == whole[1:]
    assert "The hours of Wren, edition A, are left out" in batch.notes
