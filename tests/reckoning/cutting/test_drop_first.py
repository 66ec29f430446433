"""The longest single drop before the least length, against every way to cut."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fabshop.reckoning.ask import reckon


def asked(stock: list[tuple[int, int]], pieces: list[int], kerf: int) -> dict[str, Any]:
    return {
        "kerf": kerf,
        "prefer": "drop",
        "time_limit_s": 3,
        "stock": [
            {"id": f"s{n}", "length": length, "cost": cost}
            for n, (length, cost) in enumerate(stock)
        ],
        "pieces": [
            {"id": f"p{n}", "length": length} for n, length in enumerate(pieces)
        ],
    }


def kept(question: dict[str, Any], opened: dict[str, float]) -> float:
    """The longest drop there is after: of a bar, or of a free one not opened."""
    whole = [
        stock["length"]
        for stock in question["stock"]
        if not stock["cost"] and stock["id"] not in opened
    ]
    return max([*opened.values(), *whole], default=0)


def best_by_trying(question: dict[str, Any]) -> tuple[int, float, float]:
    """Pieces cut, cost and longest drop, from every way to deal the pieces out."""
    stock, kerf = question["stock"], question["kerf"]
    best = (0, 0.0, -1.0)
    for ways in product(range(-1, len(stock)), repeat=len(question["pieces"])):
        opened = {}
        for number, one in enumerate(stock):
            mine = [
                piece["length"]
                for piece, way in zip(question["pieces"], ways, strict=True)
                if way == number
            ]
            if mine:
                opened[one["id"]] = one["length"] + kerf - sum(m + kerf for m in mine)
        if any(left < 0 for left in opened.values()):
            continue
        lefts = {name: max(0, left - kerf) for name, left in opened.items()}
        cost = sum(one["cost"] for one in stock if one["id"] in opened)
        cut = sum(way >= 0 for way in ways)
        best = max(best, (cut, -cost, kept(question, lefts)))
    return best


@settings(max_examples=25, deadline=None)
@given(
    stock=st.lists(
        st.tuples(st.integers(3, 14), st.sampled_from([0, 0, 14])),
        min_size=1,
        max_size=3,
    ),
    pieces=st.lists(st.integers(1, 7), min_size=1, max_size=4),
    kerf=st.integers(0, 1),
)
def test_it_is_the_best_of_every_way(
    stock: list[tuple[int, int]], pieces: list[int], kerf: int
) -> None:
    question = asked(stock, pieces, kerf)
    answer = reckon("cutlist", question)
    opened = {bar["stock"]: bar["left"] for bar in answer["bars"]}
    cut = sum(len(bar["pieces"]) for bar in answer["bars"])
    cost = answer["totals"]["cost"]
    found = (cut, -cost, kept(question, opened))
    known = best_by_trying(question)
    assert found[:2] == known[:2]
    if cut == len(pieces) and answer["status"] == "optimal":
        assert found[2] == known[2]


def test_an_untouched_drop_counts_as_one() -> None:
    # 50 from either drop: the longer one stays whole instead of both being cut.
    question = asked([(120, 0), (70, 0)], [50, 10], 0)
    answer = reckon("cutlist", question)
    assert [bar["stock"] for bar in answer["bars"]] == ["s1"]
    assert answer["status"] == "optimal"


@pytest.mark.parametrize("stock", [[], [(3, 0)]])
def test_where_nothing_can_be_cut_it_says_so(stock: list[tuple[int, int]]) -> None:
    answer = reckon("cutlist", asked(stock, [5], 0))
    assert answer["bars"] == []
    assert answer["short"][0]["piece"] == "p0"
