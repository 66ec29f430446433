"""The demo shop's last teardown of Tuppence, against what its tables come to."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from fabshop.reckoning.access import Cover, removals_to_reach
from fabshop.reckoning.ask import reckon
from tests.reckoning.replay import replay

CASE = Path(__file__).parent.parent / "cases" / "demo_teardown.json"
CLOSURE = {
    "T02", "T03", "T04", "T08", "T09", "T10", "T11", "T12", "T13", "T14", "T17",
    "T18", "T20", "T21", "T23", "T26", "T27", "T31", "T32", "T34",
}  # fmt: skip


def demo(**changes: Any) -> dict[str, Any]:
    return {**json.loads(CASE.read_text()), **changes}


@pytest.fixture(scope="module")
def late() -> dict[str, Any]:
    return reckon("teardown", demo())


@pytest.fixture(scope="module")
def early() -> dict[str, Any]:
    return reckon("teardown", demo(prefer="early_finish"))


def test_the_order_that_can_wait_longest_begins_sunday_two_past_noon(
    late: dict[str, Any],
) -> None:
    (session,) = late["sessions"]
    assert late["status"] == "optimal"
    assert session["start"] == "2027-09-19T10:00"
    assert session["latest_start"] == "2027-09-19T12:02"
    assert session["latest_start_any_order"] == "2027-09-19T12:02"
    assert late["choices"][0]["in_hand_minutes"] == 122


def test_the_order_that_ends_first_ends_wednesday_at_0923(
    early: dict[str, Any],
) -> None:
    (session,) = early["sessions"]
    assert early["status"] == "optimal"
    assert session["finish"] == "2027-09-22T09:23"
    assert session["waiting_minutes"] == 0
    assert session["latest_start_any_order"] == "2027-09-19T12:02"


@pytest.mark.parametrize("prefer", ["early_finish", "late_start"])
def test_all_fourteen_tasks_are_done_with_247_minutes_of_handling(prefer: str) -> None:
    asked = demo(prefer=prefer)
    answer = reckon("teardown", asked)
    replay(asked, answer)
    assert answer["left_out"] == []
    assert answer["totals"] == {
        "required": 14, "points": 0, "others": 0, "handling_minutes": 247,
    }  # fmt: skip
    steps = answer["sessions"][0]["steps"]
    removed = [s for s in steps if s["do"] == "remove"]
    assert {s["id"] for s in removed} == CLOSURE
    assert sum(s["minutes"] for s in removed) == 148
    refits = [s for s in steps if s["do"] == "refit"]
    assert sum(s["minutes"] for s in refits) == 99


def test_the_closure_costs_148_off_200_on_and_batching_saves_223() -> None:
    asked = demo()
    off = {c["id"]: c["off"] for c in asked["components"]}
    on = {c["id"]: c["on"] for c in asked["components"]}
    covers = {
        c["id"]: Cover(
            c["id"],
            c["off"],
            tuple(map(tuple, c.get("routes", ()))),
            c.get("state") == "absent",
        )
        for c in asked["components"]
    }
    jobs = [task for task in asked["tasks"] if task["id"] in _OPENING]
    together = removals_to_reach(
        covers, [], remove={name for job in jobs for name in _opened(job)}
    )
    assert set(together.order) == CLOSURE
    assert together.minutes == 148
    assert sum(on[name] for name in together.order) == 200
    apart = [removals_to_reach(covers, [], remove=_opened(job)) for job in jobs]
    assert sum(each.minutes for each in apart) == 245
    assert sum(on[name] for each in apart for name in each.order) == 326
    assert 245 + 326 - 148 - 200 == 223
    assert sum(off[name] for name in together.order) == 148


_OPENING = {"W14", "W20", "W21", "W22", "W24", "W25", "W27", "W29", "W30"}


def _opened(job: dict[str, Any]) -> list[str]:
    return [*job.get("remove", ()), *job.get("fits", ())]


def test_a_power_board_on_its_late_date_cannot_be_fitted_in_any_order() -> None:
    asked = demo()
    for task in asked["tasks"]:
        if task["id"] == "W21":
            task["ready"] = "2027-09-21T18:00"
    answer = reckon("teardown", asked)
    replay(asked, answer)
    assert answer["status"] == "optimal"
    left = {line["task"] for line in answer["left_out"]}
    assert "W21" in left or answer["totals"]["required"] < 14
    assert answer["totals"]["required"] < 14
