"""Machines tonight: the order over the soonest, never left where none may run."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import permutations

from hypothesis import given
from hypothesis import strategies as some

from fabshop import words
from fabshop.reckoning.facts import DayFact, Facts, RunFact, Span, StageFact, TaskFact
from fabshop.reckoning.overnight import machine_nights
from tests.reckoning.facts_for import NOW, at, day, shop, task

HOUR = timedelta(hours=1)


def run_task(code: str, hours: float, *, hands: int = 0, on: str = "B") -> TaskFact:
    stages = (
        StageFact(words.StageKind.HANDS_ON, hands),
        StageFact(words.StageKind.RUN, int(hours * 60), on),
    )
    return task(code, minutes=hands, stages=stages)


def evenings(count: int = 7) -> tuple[Span, ...]:
    return tuple(Span(at(n, 18, 30), at(n, 22)) for n in range(count))


def mornings(count: int = 8) -> tuple[Span, ...]:
    return tuple(Span(at(n, 6, 45), at(n, 7, 30)) for n in range(1, count))


def facts_of(*tasks: TaskFact, **more: object) -> Facts:
    return shop(tasks=tasks, windows=evenings(), **more)


def test_the_shorter_run_first_where_somebody_is_in_when_it_ends() -> None:
    """S10: 13 h begun at 22:00 ends with nobody in; 9 h ends before leaving."""
    facts = facts_of(run_task("W51", 13), run_task("W52", 9))
    facts = replace(facts, now=at(0, 21, 30))
    [night] = machine_nights(facts, mornings())
    assert [run.task for run in night.runs] == ["W52", "W51"]
    first, then = night.runs
    assert (first.begins_at, first.ends_at) == (at(0, 21, 30), at(1, 6, 30))
    assert first.begin_by == at(0, 22)
    assert not first.someone_in and first.next_in == at(1, 6, 45)
    assert (then.begins_at, night.finish) == (at(1, 6, 45), at(1, 19, 45))


def test_the_long_print_begun_this_morning_ends_tonight() -> None:
    """The demo shop's words: 16.5 h begun at 06:50 end at 23:20."""
    facts = facts_of(run_task("W50", 16.5, hands=5))
    facts = replace(facts, now=at(0, 6, 45))
    attended = (Span(at(0, 6, 45), at(0, 7, 30)), *mornings())
    [night] = machine_nights(facts, attended)
    assert night.runs[0].begins_at == at(0, 6, 50)
    assert night.runs[0].ends_at == at(0, 23, 20)


def test_nothing_is_left_running_into_a_day_on_which_nothing_may_run() -> None:
    away = DayFact(day(1), may_run_machines=False)
    facts = facts_of(run_task("W51", 10), days=(away,))
    facts = replace(facts, now=at(0, 18, 30))
    [night] = machine_nights(facts, ())
    assert night.runs[0].begins_at >= at(2, 18, 30)


def test_a_run_that_still_may_end_before_that_says_by_when_to_begin() -> None:
    away = DayFact(day(1), may_run_machines=False)
    facts = facts_of(run_task("W51", 1), days=(away,))
    facts = replace(facts, now=at(0, 18, 30))
    [night] = machine_nights(facts, ())
    assert (night.runs[0].begins_at, night.runs[0].begin_by) == (
        at(0, 18, 30),
        at(0, 21),
    )


def test_what_runs_comes_first_and_overdue_is_said() -> None:
    on = RunFact(1, "B", at(0, 8), at(0, 20))
    busy = replace(run_task("W50", 12), run=on, state=words.TaskState.DONE)
    facts = replace(facts_of(busy, run_task("W51", 2)), now=at(0, 19))
    [night] = machine_nights(facts, ())
    assert (night.busy_until, night.is_overdue) == (at(0, 20), False)
    assert night.runs[0].begins_at == at(0, 20)
    [night] = machine_nights(replace(facts, now=at(0, 21)), ())
    assert night.is_overdue


def test_a_machine_that_is_on_is_one_machine_whatever_it_is_called() -> None:
    """A run said "Small printer", its stage "B": the machine was offered as free."""
    on = RunFact(1, "B", at(0, 8), at(0, 20), name="Small printer")
    later = RunFact(2, "B", at(0, 8), at(0, 21), name="Small printer")
    busy = [
        replace(run_task(code, 12), run=run, state=words.TaskState.DONE)
        for code, run in (("W49", later), ("W50", on))
    ]
    facts = replace(facts_of(*busy, run_task("W51", 2)), now=at(0, 19))
    [night] = machine_nights(facts, ())
    assert (night.machine, night.busy_until) == ("B", at(0, 21))
    assert night.runs[0].begins_at == at(0, 21)


def test_one_pair_of_hands_sets_up_one_run_after_the_other() -> None:
    facts = facts_of(run_task("W51", 0.25, hands=60), run_task("W52", 0.25, hands=60))
    [night] = machine_nights(replace(facts, now=at(0, 18, 30)), ())
    assert [run.begins_at for run in night.runs] == [at(0, 19, 30), at(0, 20, 30)]
    assert not night.runs[0].then, "nobody starts it the moment the first is over"


def test_more_runs_than_can_be_tried_in_every_order_come_behind_them() -> None:
    facts = facts_of(*(run_task(f"W{n}", 0.1) for n in range(10, 19)))
    [night] = machine_nights(replace(facts, now=at(0, 18, 30)), ())
    assert [run.task for run in night.runs] == [f"W{n}" for n in range(10, 19)]
    assert night.finish == at(0, 19, 24)


def test_hands_on_work_longer_than_an_evening_goes_on_the_next() -> None:
    facts = facts_of(run_task("W51", 2, hands=300))
    [night] = machine_nights(replace(facts, now=at(0, 18, 30)), ())
    assert night.runs[0].begins_at == at(1, 20)


def test_hands_on_work_behind_the_run_does_not_hold_it_up() -> None:
    print_it = run_task("W51", 2, hands=5)
    clean_it = StageFact(words.StageKind.HANDS_ON, 55)
    both = replace(print_it, minutes=60, stages=(*print_it.stages, clean_it))
    [night] = machine_nights(replace(facts_of(both), now=at(0, 18, 30)), ())
    assert night.runs[0].begins_at == at(0, 18, 35)


def test_the_end_told_is_of_a_run_begun_when_told() -> None:
    facts = facts_of(run_task("W51", 2))
    [night] = machine_nights(replace(facts, now=at(0, 19)), ())
    assert "begun Mon 5 May 19:00 it ends Mon 5 May 21:00" in night.runs[0].when
    assert "begun by Mon 5 May 22:00 at latest" in night.runs[0].when


def test_only_what_can_be_begun_is_offered_and_machines_stand_apart() -> None:
    late = replace(run_task("W52", 2), after=("W51",))
    facts = facts_of(run_task("W51", 2), late, run_task("W60", 3, on="A"))
    nights = machine_nights(replace(facts, now=at(0, 19)), ())
    assert [(n.machine, [r.task for r in n.runs]) for n in nights] == [
        ("A", ["W60"]),
        ("B", ["W51"]),
    ]


@given(some.lists(some.integers(1, 20), min_size=1, max_size=4))
def test_no_other_order_is_over_sooner(hours: list[int]) -> None:
    """Every order, begun as soon as somebody is in, by a walk of the test's own."""
    tasks = [run_task(f"W{n}", length) for n, length in enumerate(hours)]
    facts = replace(facts_of(*tasks), now=at(0, 21))
    [night] = machine_nights(facts, mornings())
    spans = sorted([*evenings(), *mornings()], key=lambda span: span.start)

    def finish(order: tuple[int, ...]) -> datetime | None:
        free: datetime | None = at(0, 21)
        for length in order:
            starts = [max(s.start, free) for s in spans if free and s.end >= free]
            if not starts:
                return None
            free = starts[0] + length * HOUR
        return free

    ends = [finish(order) for order in permutations(hours)]
    if None not in ends:
        assert night.finish == min(end for end in ends if end)
    assert night.runs[0].begins_at >= NOW
