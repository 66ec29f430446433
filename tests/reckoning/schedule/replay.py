"""Every sentence of an answer held against the shop minute by minute."""

from __future__ import annotations

from typing import Any

from tests.reckoning.schedule.minutes import Done, Shop


def assert_replays(question: dict[str, Any], answer: dict[str, Any]) -> None:
    """The answer can be carried out, early and late, and counts what it says."""
    shop = Shop(question)
    plan = shop.told(answer)
    assert shop.faults(plan) == []
    rank = shop.rank(plan)
    assert answer["points"] == rank[2]
    assert answer["makespan_minutes"] == -rank[3]
    if plan:
        assert shop.minute(answer["finish"]) == -rank[3]
    left = [row["activity"] for row in answer["left_out"]]
    assert sorted([*plan, *left]) == sorted(shop.activities)
    assert all(row["why"] for row in answer["left_out"])
    _assert_latest_holds(shop, answer, plan)


def _assert_latest_holds(
    shop: Shop, answer: dict[str, Any], plan: dict[str, Done]
) -> None:
    """All of it as late as told is a plan too: later by none, over by none."""
    late: dict[str, Done] = {}
    for row in answer["activities"]:
        finish = shop.minute(row["latest_finish"])
        assert finish is not None
        assert finish >= plan[row["id"]].finish
        way = shop.way(row["id"], row["way"])
        starts = (
            start
            for start in range(finish, -1, -1)
            if shop.finish_from(row["id"], way, start, finish + 1) == finish
        )
        late[row["id"]] = Done(row["way"], next(starts), finish)
        if shop.deadline is None:
            assert finish <= shop.minute(answer["finish"])
    assert shop.faults(late) == []
