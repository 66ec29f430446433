"""What the answer shows: clock times, sums, and nothing where nothing is done."""

from __future__ import annotations

from fabshop.reckoning.ask import reckon
from fabshop.reckoning.teardown.answer import gap_answer, status_of
from fabshop.reckoning.teardown.best import Aim, Best
from tests.reckoning.replay import replay
from tests.reckoning.teardown.asked import LOOM, MONDAY, asked, problem


def test_every_step_has_its_clock_times() -> None:
    answer = reckon("teardown", asked(setup_minutes=5))
    (session,) = answer["sessions"]
    assert (session["start"], session["finish"]) == (
        "2031-05-05T18:00",
        "2031-05-05T19:00",
    )
    assert session["latest_start"] == "2031-05-06T20:00"
    assert [(s["do"], s["id"], s["start"][11:]) for s in session["steps"]] == [
        ("remove", "lid", "18:05"),
        ("remove", "deck", "18:09"),
        ("task", "loom", "18:15"),
        ("refit", "deck", "18:45"),
        ("refit", "lid", "18:54"),
    ]
    assert answer["choices"][0]["in_hand_minutes"] == 300


def test_work_over_two_evenings_starts_late_and_ends_early_of_the_gap() -> None:
    tasks = [
        {"id": "a", "minutes": 180},
        {"id": "b", "minutes": 10, "after": ["a"]},
    ]
    question = asked(components=[], tasks=tasks)
    (session,) = reckon("teardown", question)["sessions"]
    a, b = session["steps"]
    assert (a["finish"], b["start"]) == ("2031-05-05T21:00", "2031-05-06T18:00")


def test_an_instant_refit_waits_for_the_cure_and_is_at_the_bench() -> None:
    lid = {"id": "lid", "off": 0, "on": 0}
    glue = {"id": "glue", "minutes": 180, "remove": ["lid"], "keeps_open": ["lid"],
            "cure": 60}  # fmt: skip
    question = asked(components=[lid], tasks=[glue])
    answer = reckon("teardown", question)
    replay(question, answer)
    off, _, on = answer["sessions"][0]["steps"]
    assert (off["start"], off["finish"]) == ("2031-05-05T18:00", "2031-05-05T18:00")
    assert (on["start"], on["finish"]) == ("2031-05-06T18:00", "2031-05-06T18:00")
    assert answer["sessions"][0]["finish"] == answer["choices"][0]["finish"]


def test_nothing_to_do_is_an_optimal_plan_of_no_session() -> None:
    answer = reckon("teardown", asked(tasks=[]))
    assert (answer["status"], answer["sessions"]) == ("optimal", [])
    assert answer["choices"][0]["finish"] is None


def test_no_hours_at_all_leaves_everything_out() -> None:
    for changes in ({"windows": []}, {"deadline": MONDAY[0]}):
        answer = reckon("teardown", asked(**changes))
        assert answer["status"] == "optimal"
        assert answer["left_out"] == [
            {"task": "loom", "why": "there are no hands-on hours before the deadline"}
        ]


def test_a_gap_shows_numbers_or_clock_times() -> None:
    shown = gap_answer(problem(), Aim("points", 85, 90))
    assert shown == {"aim": "points", "reached": 85, "bound": 90}
    shown = gap_answer(problem(), Aim("finish", 190, 180))
    assert (shown["reached"], shown["bound"]) == (
        "2031-05-06T18:10",
        "2031-05-05T21:00",
    )
    assert status_of(Best((), (Aim("points", 85, 90),))) == "feasible"


def test_work_may_end_exactly_at_the_deadline_and_cure_until_it() -> None:
    question = asked(
        tasks=[{**LOOM, "minutes": 100, "cure": 55, "unbroken": True}],
        windows=[MONDAY],
        deadline=MONDAY[1],
    )
    answer = reckon("teardown", question)
    replay(question, answer)
    assert answer["left_out"] == []
    question["setup_minutes"] = 16
    assert len(reckon("teardown", question)["left_out"]) == 1
