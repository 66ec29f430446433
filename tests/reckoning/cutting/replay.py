"""Cuts an answer's bars again, on exact fractions, and counts what they come to."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import product
from typing import Any

Rank = tuple[int, Fraction, Fraction, Fraction]


def exact(number: float) -> Fraction:
    return Fraction(str(number))


def replay(asked: dict[str, Any], answer: dict[str, Any]) -> Rank:
    """Fails on any bar that cannot be cut; else pieces, -cost, -length, drop."""
    kerf, trim = exact(asked.get("kerf", 0)), exact(asked.get("end_trim", 0))
    stock = {each["id"]: each for each in asked["stock"]}
    lengths = {each["id"]: exact(each["length"]) for each in asked["pieces"]}
    taken, cut = Counter[str](), Counter[str]()
    drops = [Fraction(0)]
    for bar in answer["bars"]:
        taken[bar["stock"]] += 1
        cut.update(bar["pieces"])
        assert bar["pieces"], "a bar is opened for something"
        usable = exact(stock[bar["stock"]]["length"]) - trim
        used = sum(lengths[name] for name in bar["pieces"])
        n = len(bar["pieces"])
        assert used + (n - 1) * kerf <= usable
        # Conservation: pieces, kerfs, trim and what is left are the bar, but for a
        # last kerf that runs out over its end.
        left = max(Fraction(0), usable - used - n * kerf)
        assert exact(bar["left"]) == left
        keep = exact(asked.get("keep_over", 0))
        assert bar["fate"] == ("drop" if left and left >= keep else "scrap")
        drops.append(left)
    for name, count in taken.items():
        limit = stock[name].get("count", 1)
        assert limit is None or count <= limit
    short = {line["piece"]: line["count"] for line in answer["short"]}
    for piece in asked["pieces"]:
        have = cut[piece["id"]] + short.get(piece["id"], 0)
        assert have == piece.get("count", 1)
    length = sum(
        (exact(stock[name]["length"]) * count for name, count in taken.items()),
        Fraction(0),
    )
    cost = sum(
        (exact(stock[name].get("cost", 0)) * n for name, n in taken.items()),
        Fraction(0),
    )
    assert exact(answer["totals"]["length"]) == length
    assert exact(answer["totals"]["cost"]) == cost
    assert answer["totals"]["opened"] == taken.total()
    return cut.total(), -cost, -length, max(drops)


def best_by_trying_all(asked: dict[str, Any]) -> Rank:
    """The best of every way to put each piece on a bar or on none."""
    kerf, trim = exact(asked.get("kerf", 0)), exact(asked.get("end_trim", 0))
    pieces = [
        exact(each["length"])
        for each in asked["pieces"]
        for _ in range(each.get("count", 1))
    ]
    bars = []
    for each in asked["stock"]:
        count = each.get("count", 1)
        bar = (exact(each["length"]), exact(each.get("cost", 0)))
        bars += [bar] * (len(pieces) if count is None else count)
    best = (0, Fraction(0), Fraction(0), Fraction(0))
    for places in product(range(len(bars) + 1), repeat=len(pieces)):
        on: dict[int, list[Fraction]] = {}
        for piece, place in zip(pieces, places, strict=True):
            if place < len(bars):
                on.setdefault(place, []).append(piece)
        if any(
            sum(cut) + (len(cut) - 1) * kerf > bars[place][0] - trim
            for place, cut in on.items()
        ):
            continue
        lefts = [
            bars[place][0] - trim - sum(cut) - len(cut) * kerf
            for place, cut in on.items()
        ]
        rank = (
            sum(len(cut) for cut in on.values()),
            -sum((bars[place][1] for place in on), Fraction(0)),
            -sum((bars[place][0] for place in on), Fraction(0)),
            max([Fraction(0), *lefts]),
        )
        best = max(best, rank)
    return best
