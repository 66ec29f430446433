"""Questions that somebody would ask in order to break it."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.reckoning.ask import reckon, schedule_like
from tests.reckoning.schedule.asked import (
    answered,
    asked,
    at,
    evenings,
    times,
    way,
    work,
)
from tests.reckoning.schedule.replay import assert_replays


def whys(answer: dict[str, Any]) -> dict[str, str]:
    return {row["activity"]: row["why"] for row in answer["left_out"]}


def done(answer: dict[str, Any]) -> list[str]:
    return [row["id"] for row in answer["activities"]]


def test_a_milestone_holds_nothing_and_needs_no_hours() -> None:
    answer = answered(
        work("ready", way(0), ready=at("3:00")),
        work("also", way(0), after="ready"),
        windows=evenings(1),
    )
    assert times(answer) == dict.fromkeys(("ready", "also"), ("05T03:00", "05T03:00"))


def test_windows_that_touch_do_not_suspend() -> None:
    touching = [[at("18:00"), at("19:00")], [at("19:00"), at("20:00")]]
    answer = answered(work("weld", 90, unbroken=True), windows=touching)
    assert times(answer)["weld"] == ("05T18:00", "05T19:30")


def test_what_is_longer_than_every_window_is_left_out_and_says_so() -> None:
    answer = answered(
        work("weld", 181, unbroken=True), work("long", 400), windows=evenings(2)
    )
    assert whys(answer) == {
        "weld": "may not be suspended, and its 181 minutes fit no window; "
        "the longest has 180",
        "long": "takes 400 minutes, and only 360 minutes of 'me' are entered",
    }


def test_more_than_there_is_is_never_used() -> None:
    answer = answered(
        work("a", way(5, "oven")),
        work("b", way(0, "oven")),
        work("c", {**way(5), "uses": {"me": 2}}),
        work("d", {**way(5), "uses": {"oven": 0}}),
        work("e", way(5, takes={"tin": 3})),
        resources=[{"id": "oven", "capacity": 0}],
        stores=[{"id": "tin", "amount": 2.5}],
    )
    assert sorted(done(answer)) == ["b", "d"]
    assert whys(answer) == {
        "a": "wants 1 of 'oven', and there is 0",
        "c": "wants 2 of 'me', and there is 1",
        "e": "takes 3 of 'tin', and there is only 2.5",
    }


def test_tenths_add_up() -> None:
    answer = answered(
        work("a", way(5, takes={"resin": 0.1})),
        work("b", way(5, takes={"resin": 0.2})),
        stores=[{"id": "resin", "amount": 0.3}],
    )
    assert done(answer) == ["a", "b"]


def test_a_deadline_before_the_first_window_leaves_no_hours() -> None:
    answer = answered(work("a", 5), windows=evenings(2), deadline=at("17:00"))
    assert answer["status"] == "optimal"
    assert whys(answer) == {
        "a": f"finds no hours of 'me': none lie before {at('17:00')}"
    }


def test_a_deadline_before_the_origin_leaves_not_even_a_milestone() -> None:
    answer = answered(work("a", way(0)), work("b", 5), deadline="2031-05-04T12:00")
    assert (done(answer), answer["finish"], answer["makespan_minutes"]) == ([], None, 0)
    assert set(whys(answer)) == {"a", "b"}


def test_windows_all_in_the_past_are_no_hours() -> None:
    past = [["2031-05-01T18:00", "2031-05-01T21:00"]]
    answer = answered(work("a", 5), windows=past)
    assert list(whys(answer)) == ["a"]


def test_a_window_under_way_is_what_is_left_of_it() -> None:
    answer = answered(work("a", 90), origin=at("20:00"), windows=evenings(2))
    assert times(answer)["a"] == ("05T20:00", "06T18:30")
    assert answer["makespan_minutes"] == 22 * 60 + 30


def test_who_is_spared_spares_nobody() -> None:
    answer = answered(
        work("a", way(5, spares=["b"])),
        work("b", way(500, spares=["c"])),
        work("c", way(5)),
        deadline=at("1:00"),
    )
    assert done(answer) == ["a", "c"]
    answer = answered(
        work("a", way(5, spares=["b"])),
        work("b", way(500, spares=["c"])),
        work("c", way(500)),
        deadline=at("1:00"),
    )
    assert done(answer) == ["a"]
    assert "c" in whys(answer)
    assert whys(answer)["b"] == "need not be done: 'a' is done in the way 'main'"


def test_a_way_may_spare_what_its_own_activity_comes_after() -> None:
    question = asked(
        work("mould", 500),
        work("shell", 400, way(30, name="bought", spares=["mould"]), after="mould"),
        work("paint", 10, after="mould shell"),
        deadline=at("1:00"),
    )
    answer = reckon("schedule", question)
    assert times(answer) == {
        "shell": ("05T00:00", "05T00:30"),
        "paint": ("05T00:30", "05T00:40"),
    }
    assert_replays(question, answer)


def test_what_is_spared_and_done_all_the_same_is_waited_for() -> None:
    question = asked(
        work("mould", way(20, points=5), required=False),
        work("shell", way(30, name="bought", spares=["mould"]), after="mould"),
    )
    answer = reckon("schedule", question)
    assert times(answer) == {
        "mould": ("05T00:00", "05T00:20"),
        "shell": ("05T00:20", "05T00:50"),
    }


def test_ways_that_wait_for_each_other_are_not_taken_together() -> None:
    for minutes in (0, 5):
        question = asked(
            work("a", way(minutes, after=[{"id": "b"}]), way(9, name="other")),
            work("b", way(minutes, after=[{"id": "a"}])),
        )
        answer = reckon("schedule", question)
        assert [(r["id"], r["way"]) for r in answer["activities"]] == [
            ("a", "other"),
            ("b", "main"),
        ]
        del question["activities"][0]["ways"][1]
        answer = reckon("schedule", question)
        assert done(answer) == []
        assert whys(answer) == {
            "a": "would come after itself, by way of 'b'",
            "b": "would come after itself, by way of 'a'",
        }


def test_what_comes_after_what_is_left_out_is_left_out_with_it() -> None:
    answer = answered(work("a", 500), work("b", 5, after="a"), deadline=at("1:00"))
    assert whys(answer) == {
        "a": f"takes 500 minutes, and only 60 minutes of 'me' lie before {at('1:00')}",
        "b": "comes after 'a', which cannot be done",
    }


def test_what_is_not_required_and_brings_nothing_costs_nothing() -> None:
    answer = answered(
        work("a", 30), work("b", 5, required=False), work("c", way(5, points=-1))
    )
    assert set(done(answer)) == {"a", "c"}
    assert answer["points"] == -1
    assert whys(answer) == {
        "b": "is not required, brings no points, and found no gap to be done in at no "
        "cost"
    }


def test_what_counts_for_nothing_is_done_in_a_gap_but_not_what_is_spared() -> None:
    answer = answered(
        work("load", 10),
        work("print", way(60, "printer"), after="load"),
        work("fit", way(10, spares=["old"]), after="print"),
        work("old", 5, required=False),
        work("tidy", 50, required=False),
        work("sort", 70, required=False),
        resources=[{"id": "printer"}],
    )
    assert times(answer) == {
        "load": ("05T00:00", "05T00:10"),
        "print": ("05T00:10", "05T01:10"),
        "tidy": ("05T00:10", "05T01:00"),
        "fit": ("05T01:10", "05T01:20"),
    }


def test_its_own_limit_binds_beside_the_deadline() -> None:
    answer = answered(
        work("a", 60, due=at("19:30")), work("b", 60), windows=evenings(1)
    )
    assert times(answer)["a"] == ("05T18:00", "05T19:00")
    latest = {row["id"]: row["latest_finish"] for row in answer["activities"]}
    assert latest == {"a": at("19:00"), "b": at("20:00")}


def test_a_pin_forces_what_is_not_required() -> None:
    wish = work("wish", way(60, points=-9), required=False, pinned="main")
    assert done(answered(wish)) == ["wish"]
    answer = answered(wish, deadline=at("0:30"))
    assert answer["status"] == "infeasible"
    assert answer["why"] == (
        "'wish' pinned to 'main' cannot be kept: it takes 60 minutes, and only 30 "
        f"minutes of 'me' lie before {at('0:30')}"
    )
    assert (answer["finish"], answer["activities"]) == (None, [])


def test_what_pins_force_before_them_is_counted_to_them() -> None:
    answer = answered(
        work("mould-a", way(60, takes={"resin": 210}), required=False),
        work("mould-b", way(60, takes={"resin": 210}), required=False),
        work("a", 5, after="mould-a", pinned="main"),
        work("b", 5, after="mould-b", pinned="main"),
        stores=[{"id": "resin", "amount": 410}],
    )
    assert answer["why"] == (
        "'a' pinned to 'main' and 'b' pinned to 'main' cannot be kept together: "
        "they take 420 of 'resin', and there is only 410"
    )


def test_two_of_a_kind_take_work_side_by_side() -> None:
    question = asked(
        *(work(f"p{n}", way(60, "printer")) for n in range(4)),
        work("big", {**way(60), "uses": {"printer": 2}}),
        resources=[{"id": "printer", "capacity": 2}],
    )
    answer = reckon("schedule", question)
    assert answer["makespan_minutes"] == 180
    assert_replays(question, answer)


def test_a_machine_in_the_middle_of_a_job_is_held_over_night() -> None:
    question = asked(
        work("turn", way(240, "me lathe")),
        work("other", way(60, "lathe"), after="turn"),
        windows=evenings(2),
        resources=[{"id": "lathe"}],
    )
    answer = reckon("schedule", question)
    assert times(answer)["other"] == ("06T19:00", "06T20:00")
    del question["activities"][1]["after"]
    answer = reckon("schedule", question)
    assert times(answer)["other"] == ("05T00:00", "05T01:00")


def test_ties_go_by_the_order_of_the_question() -> None:
    question = asked(work("z", 10), work("a", 10), work("m", 10))
    answer = reckon("schedule", question)
    assert done(answer) == ["z", "a", "m"]


def test_a_plan_made_before_stays_where_none_is_better() -> None:
    question = asked(*(work(name, 60) for name in "abcd"), windows=evenings(3))
    plain = reckon("schedule", question)
    backwards = {
        **plain,
        "activities": [
            {**row, "id": other["id"]}
            for row, other in zip(
                plain["activities"], plain["activities"][::-1], strict=True
            )
        ],
    }
    again = schedule_like(question, backwards)
    assert (again["status"], again["finish"]) == ("optimal", plain["finish"])
    assert done(again) == done(plain)[::-1]


def test_a_plan_made_before_of_other_work_is_no_hindrance() -> None:
    question = asked(work("a", 60), work("b", 60), windows=evenings(3))
    kept = reckon("schedule", asked(work("b", way(60, name="old")), work("x", 5)))
    assert schedule_like(question, kept) == reckon("schedule", question)


@pytest.mark.parametrize("limit", [0.001, 0.05])
def test_hardly_any_time_is_time_enough_for_some_plan(limit: float) -> None:
    question = asked(
        *(work(f"w{n}", 7 * n % 50 + 5) for n in range(60)),
        windows=evenings(20),
        time_limit_s=limit,
    )
    answer = reckon("schedule", question)
    assert len(done(answer)) == 60
    assert_replays(question, answer)


def test_a_question_as_large_as_may_be_is_begun() -> None:
    year = [
        [f"2031-{5 + n // 28:02}-{1 + n % 28:02}T{hour}" for hour in ("18:00", "21:00")]
        for n in range(200)
    ]
    question = asked(
        *(
            work(
                f"w{n}",
                way(5 + n % 60),
                way(3 + n % 90, "you", "other"),
                after=f"w{n - 7}+60" if n > 7 else "",
            )
            for n in range(500)
        ),
        windows=year,
        resources=[{"id": "you", "windows": year[::2]}],
        time_limit_s=2,
    )
    answer = reckon("schedule", question)
    assert len(done(answer)) == 500


def test_pins_that_are_in_each_others_way_are_named_together() -> None:
    """Without the pin of the one the other could be kept, by the one's Plan B."""
    first = work("cad", way(60), way(5, name="sketch"), pinned="main")
    then = work("print", way(10), after="cad", pinned="main", due=at("0:30"))
    why = answered(first, then, work("apart", 5, pinned="main"))["why"]
    assert "'cad' pinned to 'main' and 'print' pinned to 'main' cannot be kept" in why
    short = answered(work("cad", 60, pinned="main", due=at("0:30")))["why"]
    assert short.endswith("cannot be kept: its 60 minutes cannot be over by "
                          "2031-05-05T00:30")  # fmt: skip


def test_work_past_the_end_of_the_calendar_is_left_out_with_a_reason() -> None:
    answer = reckon(
        "schedule",
        {
            "origin": "9999-12-31T23:00",
            "activities": [work("now", way(59, "")), work("never", way(100, ""))],
        },
    )
    assert answer["finish"] == "9999-12-31T23:59"
    assert list(whys(answer)) == ["never"]
    assert whys(answer)["never"]
