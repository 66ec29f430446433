"""Held against published optima, and against another library's longest path."""

from __future__ import annotations

import random

import networkx
import pytest

from fabshop.reckoning.ask import reckon
from tests.reckoning.schedule import published
from tests.reckoning.schedule.published import job_shop, project
from tests.reckoning.schedule.replay import assert_replays


def test_j301_1_has_its_published_optimum() -> None:
    question = project(
        published.J301_1_SUCCESSORS,
        published.J301_1_WORK,
        published.J301_1_CAPACITIES,
    )
    answer = reckon("schedule", question)
    assert answer["status"] == "optimal"
    assert answer["makespan_minutes"] == published.J301_1_OPTIMUM
    assert_replays(question, answer)


def test_j301_1_with_enough_of_everything_is_its_longest_chain() -> None:
    question = project(
        published.J301_1_SUCCESSORS, published.J301_1_WORK, (99, 99, 99, 99)
    )
    answer = reckon("schedule", question)
    assert answer["makespan_minutes"] == published.J301_1_LONGEST_CHAIN


@pytest.mark.parametrize(
    ("rows", "optimum"),
    [
        (published.FT06, published.FT06_OPTIMUM),
        (published.LA01, published.LA01_OPTIMUM),
    ],
)
def test_a_job_shop_has_its_published_optimum(rows: str, optimum: int) -> None:
    question = job_shop(rows)
    answer = reckon("schedule", question)
    assert (answer["status"], answer["makespan_minutes"]) == ("optimal", optimum)
    assert_replays(question, answer)


@pytest.mark.parametrize("seed", range(30))
def test_with_hands_enough_the_longest_path_is_the_plan(seed: int) -> None:
    chance = random.Random(f"longest path {seed}")
    count = chance.randint(2, 40)
    graph = networkx.DiGraph()
    activities = []
    for n in range(count):
        minutes = chance.randint(0, 50)
        after = [
            {"id": f"w{k}", "lag": chance.choice([0, 0, 7, 100])}
            for k in range(n)
            if chance.random() < 3 / count
        ]
        graph.add_edge("begin", (n, "in"), weight=0)
        graph.add_edge((n, "in"), (n, "out"), weight=minutes)
        for one in after:
            before = int(one["id"][1:])
            graph.add_edge((before, "out"), (n, "in"), weight=one["lag"])
        ways = [{"id": "main", "minutes": minutes}]
        activities.append({"id": f"w{n}", "ways": ways, "after": after})
    answer = reckon(
        "schedule", {"origin": "2031-01-01T00:00", "activities": activities}
    )
    # A lag behind the last of the work is no work: the ends of the work count.
    assert answer["status"] == "optimal"
    assert answer["makespan_minutes"] == networkx.dag_longest_path_length(graph)
