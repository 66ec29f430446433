"""The earliest moments: never before parts, chains or cures; unknown stays unknown."""

from __future__ import annotations

import random

import networkx

from fabshop import words
from fabshop.reckoning.facts import Span, StageFact
from fabshop.reckoning.readiness import Outlook
from fabshop.reckoning.readiness.free import clock_minutes
from tests.reckoning.facts_for import (
    NOW,
    at,
    component,
    done,
    evenings,
    finished,
    order,
    promise,
    shop,
    task,
)


def free(facts, name="B", *, late=False):
    outlook = Outlook(facts)
    return (outlook.late if late else outlook.likely).free_at[name]


def test_a_task_with_nothing_in_its_way_is_free_now():
    assert free(shop([task("B")])) == NOW


def test_a_task_is_free_when_its_last_part_comes_likely_or_late():
    orders = [order("P1", promises=(promise(2, 6),)), order("P2")]
    facts = shop([task("B", needs="P1/1 P2/1")], orders=orders)
    assert free(facts) == at(5, 18)
    assert free(facts, late=True) == at(8, 18)


def test_a_chain_runs_through_the_hours_and_cures_on_the_clock():
    # A takes 240 factored minutes: all of tonight and an hour tomorrow, then cures.
    facts = shop(
        [task("A", minutes=120, cure=600), task("B", after="A")],
        finished=tuple(finished("other", 120, 120, 120, 120, 120)),
    )
    assert free(facts) == at(2, 5)
    assert Outlook(facts).likely.done_at["A"] == at(2, 5)


def test_taking_off_what_shuts_a_task_in_takes_its_time():
    parts = (component("seat", "lid", off_minutes=10), component("lid", off_minutes=20))
    facts = shop([task("A", fits="seat"), task("B", after="A")], parts)
    assert free(facts) == at(0, 19, 30)


def test_a_finished_task_holds_up_only_while_it_cures():
    curing = done("A", cured_at=at(1, 3))
    assert free(shop([curing, task("B", after="A")])) == at(1, 3)
    assert free(shop([done("A", cured_at=NOW), task("B", after="A")])) == NOW


def test_a_task_under_way_is_done_from_now_though_a_part_never_comes():
    begun = task("A", needs="P1/1", state=words.TaskState.UNDER_WAY)
    unknown = order("P1", promises=(promise(None, said="?"),), lead_late_days=None)
    assert free(shop([begun, task("B", after="A")], orders=[unknown])) == at(0, 19)


def test_unknown_parts_failed_holds_and_ended_hours_are_unknown():
    unknown = order("P1", promises=(promise(None, said="?"),), lead_late_days=None)
    assert free(shop([task("B", needs="P1/1")], orders=[unknown])) is None
    failed = task("A", is_hold=True, hold=words.HoldVerdict.FAILED)
    assert free(shop([failed, task("B", after="A")])) is None
    long = task("A", minutes=181)
    assert free(shop([long, task("B", after="A")], windows=evenings(1))) is None
    assert free(shop([task("A"), task("B", after="A")], windows=())) is None


def test_clock_minutes_are_runs_and_cures():
    stages = (
        StageFact(words.StageKind.HANDS_ON, 20),
        StageFact(words.StageKind.RUN, 300, "printer"),
        StageFact(words.StageKind.CURE, 60),
    )
    assert clock_minutes(task("A", stages=stages)) == 360


def test_with_hands_always_there_it_is_the_longest_path():
    for seed in range(30):
        chance = random.Random(seed)
        names = [f"n{n:02}" for n in range(12)]
        tasks = [
            task(
                name,
                minutes=chance.randint(5, 90),
                cure=chance.choice((0, 0, 120)),
                after=tuple(chance.sample(names[:n], chance.randint(0, min(3, n)))),
            )
            for n, name in enumerate(names)
        ]
        # Round the clock, so that worked minutes are clock minutes.
        facts = shop(tasks, windows=(Span(at(0, 0), at(40, 0)),))
        graph = networkx.DiGraph()
        for one in tasks:
            graph.add_node(one.id)
            length = one.minutes + clock_minutes(one)
            graph.add_edge(one.id, f"{one.id} done", minutes=length)
            for before in one.after:
                graph.add_edge(f"{before} done", one.id, minutes=0)
        lengths = networkx.dag_longest_path_length(graph, weight="minutes")
        ends = Outlook(facts).likely.done_at.values()
        latest = max(end for end in ends if end is not None)
        assert (latest - NOW).total_seconds() == lengths * 60, seed


def test_a_later_parcel_never_frees_anybody_sooner():
    for seed in range(30):
        chance = random.Random(seed)
        names = [f"n{n}" for n in range(6)]
        tasks = [
            task(
                name,
                needs=chance.choice(("", "P1/1", "P2/1=1")),
                after=tuple(chance.sample(names[:n], chance.randint(0, min(2, n)))),
            )
            for n, name in enumerate(names)
        ]
        eta, slip = chance.randint(0, 6), chance.randint(1, 5)

        def outlook(days, tasks=tasks):
            orders = [order("P1", promises=(promise(days),)), order("P2")]
            return Outlook(shop(tasks, orders=orders)).likely.free_at

        sooner, later = outlook(eta), outlook(eta + slip)
        for name in names:
            assert later[name] is None or sooner[name] <= later[name], (seed, name)
