"""What is in doubt about a plan, as the simulation is asked."""

from __future__ import annotations

from fabshop.reckoning.facts import FinishedTask
from fabshop.reckoning.planning.doubt import GUESSED, sure_question
from fabshop.reckoning.sure import sure
from tests.reckoning.planning.planned import plan_of, small_shop


def asked(**said):
    facts = small_shop(**said)
    return sure_question(facts, plan_of(facts), plan_of(facts, late=True), runs=50)


def test_each_line_is_drawn_and_its_day_taken_out_of_the_question():
    told = asked()
    assert [one["id"] for one in told["arrivals"]] == ["P1/1"]
    (line,) = [
        one for one in told["plans"][0]["question"]["activities"] if one["id"] == "P1/1"
    ]
    assert "ready" not in line


def test_a_family_with_too_few_finished_tasks_is_guessed_wide():
    (work,) = asked()["work"]
    assert (work["early"], work["likely"], work["late"]) == GUESSED


def test_a_family_that_is_known_spreads_as_its_log_does():
    log = (60, 60, 60, 60, 120)
    (work,) = asked(finished=tuple(FinishedTask("other", 60, m) for m in log))["work"]
    assert work["early"] == round(1 / 1.2, 4)
    assert work["late"] == round(2 / 1.2, 4)


def test_the_simulation_takes_the_question():
    answer = sure(asked())
    assert [one["id"] for one in answer["plans"]] == ["kept", "late"]
    assert len(answer["band"]) > 5
