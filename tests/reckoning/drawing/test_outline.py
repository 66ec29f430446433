"""Edges find each other by their ends; gaps are told with where and how far."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fabshop.reckoning.drawing.edge import arc, line
from fabshop.reckoning.drawing.outline import joined
from tests.reckoning.drawing.drawn import circle, polygon

SQUARE = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0)]


@given(st.integers(0, 1000))
def test_order_and_direction_of_the_edges_do_not_matter(seed: int) -> None:
    chance = Random(seed)
    edges = [e.reversed() if chance.random() < 0.5 else e for e in polygon(SQUARE)]
    chance.shuffle(edges)
    (outline,) = joined(edges).outlines
    assert outline.closed
    assert outline.area == pytest.approx(1200)
    assert outline.length == pytest.approx(140)


def test_a_gap_says_between_which_ends_and_by_how_much() -> None:
    found = joined([*polygon(SQUARE)[:3], line((0, 30), (0, 0.25))])
    (outline,) = found.outlines
    assert not outline.closed
    assert outline.area == 0
    (gap,) = found.gaps
    assert {gap.here, gap.there} == {(0, 0), (0, 0.25)}
    assert gap.mm == pytest.approx(0.25)


def test_a_hairs_breadth_is_bridged() -> None:
    found = joined([*polygon(SQUARE)[:3], line((0.005, 30), (0, 0.01))])
    assert [one.closed for one in found.outlines] == [True]
    assert found.gaps == ()


def test_a_line_drawn_twice_counts_once_and_is_told() -> None:
    edges = polygon(SQUARE)
    found = joined([*edges, edges[1].reversed(), circle(20, 15, 3), circle(20, 15, 3)])
    assert found.twice == 2
    assert [one.closed for one in found.outlines] == [True, True]


def test_two_halves_of_a_round_are_not_one_line_twice() -> None:
    halves = [
        arc((0, 0), 5, 0, 3.141592653589793),
        arc((0, 0), 5, 0, -3.141592653589793),
    ]
    found = joined(halves)
    assert found.twice == 0
    assert [one.closed for one in found.outlines] == [True]


def test_where_three_lines_meet_it_says_so() -> None:
    found = joined([*polygon(SQUARE), line((0, 0), (10, 10))])
    assert found.crossings == ((0.0, 0.0),)
