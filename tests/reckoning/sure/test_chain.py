"""The critical path against worked examples of textbooks and another library."""

from __future__ import annotations

import random

import networkx
import pytest

from fabshop.reckoning.sure.chain import chain_times, chance_by, critical
from fabshop.reckoning.sure.spread import Triple, pert_mean, pert_variance

# Taylor, Introduction to Management Science, ch. 8, solutions; activities are arcs:
# duration, then earliest start and finish, latest start and finish, slack.
NET_1 = {
    "1-2": (7, 0, 7, 2, 9, 2),
    "1-3": (10, 0, 10, 0, 10, 0),
    "2-4": (6, 7, 13, 9, 15, 2),
    "3-4": (5, 10, 15, 10, 15, 0),
    "3-5": (4, 10, 14, 14, 18, 4),
    "4-5": (3, 15, 18, 15, 18, 0),
    "5-6": (2, 18, 20, 18, 20, 0),
}
NET_2 = {
    "1-2": (8, 0, 8, 1, 9, 1),
    "1-3": (10, 0, 10, 0, 10, 0),
    "1-4": (9, 0, 9, 6, 15, 6),
    "2-5": (6, 8, 14, 9, 15, 1),
    "2-6": (4, 8, 12, 16, 20, 8),
    "3-5": (5, 10, 15, 10, 15, 0),
    "4-5": (0, 9, 9, 15, 15, 6),
    "4-7": (7, 9, 16, 20, 27, 11),
    "5-7": (12, 15, 27, 15, 27, 0),
    "5-8": (15, 15, 30, 16, 31, 1),
    "6-9": (18, 12, 30, 20, 38, 8),
    "7-8": (4, 27, 31, 27, 31, 0),
    "8-9": (7, 31, 38, 31, 38, 0),
}
# General Foundry, Render, Stair and Hanna, ch. 12; the three times from memory.
FOUNDRY = {
    "A": (Triple(1, 2, 3), ""),
    "B": (Triple(2, 3, 4), ""),
    "C": (Triple(1, 2, 3), "A"),
    "D": (Triple(2, 4, 6), "B"),
    "E": (Triple(1, 4, 7), "C"),
    "F": (Triple(1, 2, 9), "C"),
    "G": (Triple(3, 4, 11), "DE"),
    "H": (Triple(1, 2, 3), "FG"),
}


@pytest.mark.parametrize("net", [NET_1, NET_2])
def test_the_times_are_those_of_the_textbook(
    net: dict[str, tuple[int, int, int, int, int, int]],
) -> None:
    minutes = {arc: float(told[0]) for arc, told in net.items()}
    after = {
        arc: [other for other in net if other.split("-")[1] == arc.split("-")[0]]
        for arc in net
    }
    for arc, times in chain_times(minutes, after).items():
        assert (
            times.earliest_start,
            times.earliest_finish,
            times.latest_start,
            times.latest_finish,
            times.slack,
        ) == net[arc][1:]


def test_the_foundry() -> None:
    minutes = {name: pert_mean(triple) for name, (triple, _) in FOUNDRY.items()}
    assert list(minutes.values()) == pytest.approx([2, 3, 2, 4, 4, 3, 5, 2])
    times = chain_times(minutes, {name: list(b) for name, (_, b) in FOUNDRY.items()})
    assert critical(times) == list("ACEGH")
    assert times["H"].latest_finish == pytest.approx(15)
    slack = {name: round(times[name].slack, 6) for name in "BDF"}
    assert slack == {"B": 1, "D": 1, "F": 6}
    chain = [FOUNDRY[name][0] for name in "ACEGH"]
    assert sum(map(pert_variance, chain)) == pytest.approx(112 / 36)
    assert chance_by(16, chain) == pytest.approx(0.7146, abs=5e-5)


def test_the_chance_of_taylors_chain() -> None:
    # Taylor ch. 8: path 1-3-5-7 is 24 weeks with variance 5, P(x <= 28) = 0.9633
    # with z rounded to 1.79; exactly 0.96318.
    chain = [Triple(5, 8, 17), Triple(3, 5, 7), Triple(4, 6, 8), Triple(3, 4, 5)]
    assert chance_by(28, chain) == pytest.approx(0.96318, abs=5e-6)


def test_what_is_not_in_doubt_is_sure_or_impossible() -> None:
    assert chance_by(5, [Triple(5, 5, 5)]) == 1
    assert chance_by(4.9, [Triple(5, 5, 5)]) == 0


@pytest.mark.parametrize("seed", range(30))
def test_the_end_is_the_longest_path(seed: int) -> None:
    chance = random.Random(seed)
    names = [f"w{n}" for n in range(chance.randint(1, 30))]
    minutes = {name: float(chance.randint(0, 40)) for name in names}
    after = {
        name: [b for b in names[:n] if chance.random() < 0.15]
        for n, name in enumerate(names)
    }
    graph = networkx.DiGraph()
    for name in names:
        graph.add_edge("begin", name, weight=0)
        graph.add_edge(name, "end", weight=minutes[name])
        for before in after[name]:
            graph.add_edge(before, name, weight=minutes[before])
    times = chain_times(minutes, after)
    end = networkx.dag_longest_path_length(graph)
    assert max(at.earliest_finish for at in times.values()) == end
    assert critical(times)
    assert all(at.slack >= 0 and at.latest_finish <= end for at in times.values())


def test_a_loop_is_told() -> None:
    with pytest.raises(ValueError, match="comes after itself: a, b"):
        chain_times({"a": 1, "b": 1}, {"a": ["b"], "b": ["a"]})
