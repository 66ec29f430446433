"""The best there is by trying out everything; slow, and no code of ours."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations, product
from typing import Any

from tests.reckoning.schedule.minutes import Done, Shop

Rank = tuple[int, int, int, int]


def best_rank(question: dict[str, Any]) -> Rank:
    """Of every choice of ways, in every order, each as early as it can be.

    Of two plans the one with something earlier is never worse, so the orders are
    enough; `best_rank_of_all_starts` does without that thought.
    """
    shop = Shop(question)
    limit = _limit(shop)
    best: Rank = (0, 0, 0, -1 << 60)
    for ways in _choices(shop):
        if not _may_be_better(shop, ways, best):
            continue
        for order in permutations(ways):
            plan = _placed(shop, ways, order, limit)
            if plan is not None:
                best = max(best, shop.rank(plan))
    return best


def best_rank_of_all_starts(question: dict[str, Any]) -> Rank:
    """Of every choice of ways, with every start there can be."""
    shop = Shop(question)
    limit = _limit(shop)
    best: Rank = (0, 0, 0, -1 << 60)
    for ways in _choices(shop):
        spans = [
            [
                Done(way, start, finish)
                for start in range(limit + 1)
                if (f := shop.finish_from(name, shop.way(name, way), start, limit))
                is not None
                for finish in [f]
            ]
            for name, way in ways.items()
        ]
        for picked in product(*spans):
            plan = dict(zip(ways, picked, strict=True))
            rank = shop.rank(plan)
            if rank > best and not shop.faults(plan) and _can_follow(shop, plan):
                best = rank
    return best


def _limit(shop: Shop) -> int:
    if shop.deadline is not None:
        return max(0, shop.deadline)
    opens = [max(m, default=0) for m in shop.open_minutes.values() if m is not None]
    ready = [shop.minute(one.get("ready")) or 0 for one in shop.activities.values()]
    lags = 5 + 2
    work = sum(
        max(way["minutes"] for way in one["ways"]) + lags
        for one in shop.activities.values()
    )
    return max([*opens, *ready, 0]) + 1 + work


def _choices(shop: Shop) -> Iterator[dict[str, str]]:
    """Every way to take each activity, or to leave it; pins are kept where they are."""
    options = [
        [way["id"] for way in one["ways"] if one.get("pinned") in (None, way["id"])]
        + [None]
        for one in shop.activities.values()
    ]
    for picked in product(*options):
        yield {n: way for n, way in zip(shop.activities, picked, strict=True) if way}


def _may_be_better(shop: Shop, ways: dict[str, str], best: Rank) -> bool:
    plan = {name: Done(way, 0, 0) for name, way in ways.items()}
    return shop.rank(plan)[:3] >= best[:3]


def _placed(
    shop: Shop, ways: dict[str, str], order: tuple[str, ...], limit: int
) -> dict[str, Done] | None:
    plan: dict[str, Done] = {}
    for name in order:
        way = shop.way(name, ways[name])
        earliest = 0
        for other, lag in shop.before(name, way):
            if other in ways:
                if other not in plan:
                    return None
                earliest = max(earliest, plan[other].finish + lag)
        for start in range(earliest, limit + 1):
            finish = shop.finish_from(name, way, start, limit)
            if finish is None:
                continue
            plan[name] = Done(ways[name], start, finish)
            # Who spares what may come later in the order.
            if not [f for f in shop.faults(plan) if "is done without" not in f]:
                break
            del plan[name]
        else:
            return None
    return plan if not shop.faults(plan) else None


def _can_follow(shop: Shop, plan: dict[str, Done]) -> bool:
    """Whether nothing comes after itself: milestones could, all at one moment."""
    left = dict(plan)
    while left:
        free = [
            name
            for name, done in left.items()
            if not any(
                b in left for b, _ in shop.before(name, shop.way(name, done.way))
            )
        ]
        if not free:
            return False
        for name in free:
            del left[name]
    return True
