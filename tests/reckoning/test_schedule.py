"""The schedule, sentence by sentence of its format."""

from __future__ import annotations

from typing import Any

from tests.reckoning.schedule.asked import (
    answered,
    at,
    evenings,
    times,
    way,
    work,
)


def whys(answer: dict[str, Any]) -> dict[str, str]:
    return {row["activity"]: row["why"] for row in answer["left_out"]}


def test_work_rests_outside_the_windows_and_a_run_does_not() -> None:
    answer = answered(
        work("cad", 200),
        work("print", way(840, "printer"), after="cad"),
        work("fit", 30, after="print"),
        windows=evenings(4),
        resources=[{"id": "printer"}],
    )
    assert answer["status"] == "optimal"
    assert times(answer) == {
        "cad": ("05T18:00", "06T18:20"),
        "print": ("06T18:20", "07T08:20"),
        "fit": ("07T18:00", "07T18:30"),
    }
    assert answer["finish"] == at("18:30", 2)
    assert answer["makespan_minutes"] == 2 * 24 * 60 + 18 * 60 + 30


def test_a_lag_runs_on_the_clock() -> None:
    answer = answered(
        work("glue", 60), work("sand", 10, after="glue+300"), windows=evenings(3)
    )
    assert times(answer)["sand"] == ("06T18:00", "06T18:10")
    answer = answered(
        work("glue", 60), work("sand", 10, after="glue+30"), windows=evenings(3)
    )
    assert times(answer)["sand"] == ("05T19:30", "05T19:40")


def test_unbroken_work_lies_in_one_window() -> None:
    answer = answered(
        work("first", 60),
        work("weld", 150, after="first", unbroken=True),
        windows=evenings(2),
    )
    assert times(answer)["weld"] == ("06T18:00", "06T20:30")


def test_two_people_work_together_only_when_both_are_there() -> None:
    answer = answered(
        work("lift", way(150, "me helper")),
        windows=evenings(3),
        resources=[{"id": "helper", "windows": evenings(3, "19:00", "20:00")}],
    )
    assert times(answer)["lift"] == ("05T19:00", "07T19:30")


def test_what_is_not_in_the_shop_is_not_begun() -> None:
    answer = answered(
        work("fit", 30, ready=at("19:30", 1)), work("other", 60), windows=evenings(3)
    )
    assert times(answer)["fit"] == ("06T19:30", "06T20:00")


def test_most_required_then_most_points_then_the_earliest_finish() -> None:
    answer = answered(
        work("must", 120),
        work("small", way(60, points=3), required=False),
        work("big", way(70, points=5), required=False),
        work("long", way(61, points=4), required=False),
        windows=evenings(1, "18:00", "21:01"),
        deadline=at("21:01"),
    )
    assert answer["status"] == "optimal"
    assert answer["points"] == 4
    assert set(times(answer)) == {"must", "long"}
    assert whys(answer)["big"] == (
        "could be done, but not together with what is planned, "
        "which counts for more or as much"
    )


def test_a_fallback_spares_the_chain_it_replaces() -> None:
    answer = answered(
        work("mould", way(400, points=0)),
        work(
            "shell",
            way(60, points=9, after=[{"id": "mould"}]),
            way(30, name="bought", points=2, spares=["mould"]),
        ),
        windows=evenings(1),
        deadline=at("23:00"),
    )
    assert answer["status"] == "optimal"
    assert [(row["id"], row["way"]) for row in answer["activities"]] == [
        ("shell", "bought")
    ]
    assert answer["points"] == 2
    assert whys(answer) == {
        "mould": "need not be done: 'shell' is done in the way 'bought'"
    }


def test_what_is_used_up_is_used_once() -> None:
    answer = answered(
        work("a", way(60, points=3, takes={"resin": 210}), required=False),
        work("b", way(60, points=4, takes={"resin": 210}), required=False),
        stores=[{"id": "resin", "amount": 410}],
    )
    assert [row["id"] for row in answer["activities"]] == ["b"]


def test_a_pin_is_kept_whatever_it_costs() -> None:
    answer = answered(
        work("must", 170),
        work("wish", way(60, points=1), required=False, pinned="main"),
        windows=evenings(1),
        deadline=at("23:00"),
    )
    assert [row["id"] for row in answer["activities"]] == ["wish"]
    assert answer["status"] == "optimal"


def test_pins_that_cannot_all_be_kept_are_named_and_no_others() -> None:
    answer = answered(
        work("a", way(60, takes={"resin": 210}), pinned="main"),
        work("b", way(60, takes={"resin": 210}), pinned="main"),
        work("c", 5, pinned="main"),
        stores=[{"id": "resin", "amount": 410}],
    )
    assert answer["status"] == "infeasible"
    assert answer["why"] == (
        "'a' pinned to 'main' and 'b' pinned to 'main' cannot be kept together: "
        "they take 420 of 'resin', and there is only 410"
    )


def test_an_empty_question_has_an_empty_plan() -> None:
    answer = answered()
    assert answer == {
        "status": "optimal",
        "finish": None,
        "makespan_minutes": 0,
        "points": 0,
        "activities": [],
        "left_out": [],
    }


def test_latest_finish_keeps_the_order_and_ends_in_time() -> None:
    answer = answered(
        work("a", 60),
        work("print", way(600, "printer"), after="a"),
        work("b", 60, after="print"),
        windows=evenings(3),
        resources=[{"id": "printer"}],
        deadline=at("12:00", 3),
    )
    latest = {row["id"]: row["latest_finish"] for row in answer["activities"]}
    assert latest == {
        "a": at("21:00", 1),
        "print": at("20:00", 2),
        "b": at("21:00", 2),
    }
