"""The schedule question that a shop's facts put."""

from __future__ import annotations

from dataclasses import replace

from fabshop import words
from fabshop.reckoning.facts import (
    Besides,
    DayFact,
    FallbackFact,
    NeedFact,
    StageFact,
    StoreFact,
)
from fabshop.reckoning.planning.question import schedule_question
from fabshop.reckoning.planning.session import Session
from fabshop.reckoning.questions.schedule import schedule_question as read
from tests.reckoning.facts_for import at, day, order, shop, span, task

RUN = words.StageKind.RUN
NO_DAYS = {f"lead_{part}_days": None for part in ("early", "likely", "late")}


def asked(*tasks, besides=None, **said):
    extra = {
        key: said.pop(key) for key in ("sessions", "late", "pinned") if key in said
    }
    facts = shop(tasks=tasks, windows=tuple(span(n, 18, 21) for n in range(9)), **said)
    found = schedule_question(facts, besides or Besides(), **extra)
    read(found.question)
    return found


def activity(found, name):
    return next(one for one in found.question["activities"] if one["id"] == name)


def test_a_cure_is_a_lag_and_bounds_the_end():
    found = asked(task("glue", cure=600), task("sand", after="glue"))
    assert activity(found, "sand")["after"] == [{"id": "glue", "lag": 600}]
    assert activity(found, "glue")["due"] < found.question["deadline"]


def test_a_part_that_is_awaited_is_a_milestone_of_the_final_way_alone():
    fallback = FallbackFact("Old pod", 30)
    found = asked(
        task("pod", needs="P1/1", fallbacks=(fallback,)),
        orders=[order("P1", sent_on=day(0), lead_likely_days=2, lead_late_days=4)],
    )
    final, plan_b = activity(found, "pod")["ways"]
    assert final["after"] == [{"id": "P1/1"}]
    assert "after" not in plan_b
    assert activity(found, "P1/1")["ready"] == at(2, 18).isoformat(timespec="minutes")
    assert found.lines == {"P1/1": "P1"}


def test_the_late_side_takes_the_late_day():
    said = {"sent_on": day(0), "lead_likely_days": 2, "lead_late_days": 4}
    found = asked(task("pod", needs="P1/1"), orders=[order("P1", **said)], late=True)
    assert activity(found, "P1/1")["ready"] == at(4, 18).isoformat(timespec="minutes")


def test_a_part_that_nobody_can_date_leaves_only_the_plan_b():
    fallback = FallbackFact("Old pod", 30)
    found = asked(
        task("pod", needs="P1/1", fallbacks=(fallback,)),
        orders=[order("P1", **NO_DAYS)],
    )
    assert [way["id"] for way in activity(found, "pod")["ways"]] == ["plan-b"]
    assert "P1" in found.never["pod"]


def test_an_order_follows_the_task_that_sends_it_by_its_lead_days():
    found = asked(
        task("draw"),
        task("fit", needs="P1/1"),
        orders=[
            order("P1", sent_on=None, lead_likely_days=2, sent_with="draw"),
        ],
    )
    assert activity(found, "P1/1")["after"] == [{"id": "draw", "lag": 2 * 24 * 60}]


def test_a_cure_that_a_plan_b_does_without_stands_apart():
    fallback = FallbackFact("Clips", 12)
    found = asked(
        task("cowl", cure=720, fallbacks=(fallback,)), task("x", after="cowl")
    )
    assert activity(found, "cowl~cured")["ways"][0]["minutes"] == 720
    assert activity(found, "cowl")["ways"][1]["spares"] == ["cowl~cured"]
    assert activity(found, "x")["after"] == [{"id": "cowl"}, {"id": "cowl~cured"}]


def printed(name, minutes=600):
    stages = (StageFact(words.StageKind.HANDS_ON, 20), StageFact(RUN, minutes, "big"))
    return task(name, minutes=20, stages=stages, required=False)


def test_runs_on_one_machine_take_turns():
    found = asked(printed("a"), printed("b"))
    ways = {way["id"]: way for way in activity(found, "b")["ways"]}
    assert set(ways) == {"final after nothing", "final after a"}
    assert ways["final after a"]["after"] == [{"id": "a", "lag": 600}]
    assert {"id": "turn on big after a", "amount": 1.0} in found.question["stores"]


def test_a_run_may_be_set_going_when_somebody_is_in_outside_bench_hours():
    found = asked(printed("a"), besides=Besides(attended=(span(1, 6, 7),)))
    assert [way["id"] for way in activity(found, "a")["ways"]] == [
        "final",
        "final by somebody in",
    ]


def test_nothing_may_be_left_running_while_nobody_is_there():
    found = asked(printed("a"), days=(DayFact(day(2), may_run_machines=False),))
    (may,) = [
        one
        for one in found.question["resources"]
        if one["id"] == "a run of 600 min may begin"
    ]
    assert may["windows"][0][1] == at(1, 11).isoformat(timespec="minutes")


def test_what_is_used_up_is_taken_and_its_day_binds():
    resin = StoreFact("C01", "Resin", 410_000, "g", use_by=at(3, 0))
    lay = task("lay", fallbacks=(FallbackFact("Old cab", 90),))
    need = NeedFact(words.NeedKind.RACK, "C01", 210_000)
    found = asked(replace(lay, needs=(need,)), besides=Besides(stores=(resin,)))
    final, plan_b = activity(found, "lay")["ways"]
    assert final["takes"] == {"C01": 210.0}
    assert final["uses"] == {"me": 1, "C01 in date": 1}
    assert "takes" not in plan_b
    assert found.question["stores"] == [{"id": "C01", "amount": 410.0}]


def test_noise_is_made_outside_quiet_hours():
    found = asked(
        task("grind", noisy=True), days=(DayFact(day(1), quiet_until=at(1, 11)),)
    )
    assert activity(found, "grind")["ways"][0]["uses"] == {"me": 1, "noise allowed": 1}


def test_a_helper_is_another_way_only_where_the_task_says_so():
    hours = (("Hal", span(1, 10, 12)),)
    found = asked(task("sand", may_help=True), helper_windows=hours)
    assert [w["id"] for w in activity(found, "sand")["ways"]] == [
        "final",
        "final by Hal",
    ]
    said = asked(task("sand"), helper_windows=hours)
    assert said.notes == [
        "No task says that a helper may do it: the hours of Hal are not planned."
    ]


def test_a_teardown_keeps_its_order_and_begins_with_its_last_part():
    answer = {
        "sessions": [
            {
                "steps": [
                    {"do": "remove", "id": "lid", "minutes": 5},
                    {"do": "task", "id": "pod", "minutes": 60},
                    {"do": "refit", "id": "lid", "minutes": 7},
                ]
            }
        ]
    }
    session = Session("buggy", {"tasks": [{"id": "pod"}]}, answer)
    found = asked(
        task("pod", needs="P1/1"),
        orders=[order("P1", sent_on=day(0), lead_likely_days=2, lead_late_days=4)],
        sessions=[session],
    )
    assert activity(found, "buggy/1")["after"] == [{"id": "P1/1"}]
    assert {"id": "buggy/1"} in activity(found, "pod")["after"]
    assert activity(found, "buggy/3")["after"] == [{"id": "pod"}]
    assert set(found.blocks) == {"buggy/1", "buggy/3"}
