"""A task that would close over a weld not accepted is on hold, and a plan says so."""

from __future__ import annotations

from dataclasses import replace

from fabshop.reckoning.ask import reckon
from fabshop.reckoning.batching import teardown_batch
from fabshop.reckoning.facts import JointFact
from fabshop.reckoning.readiness import readiness
from fabshop.words import JointState, Why
from tests.reckoning import facts_for

J07 = JointFact("J07", JointState.REWORK, task="W34", tasks=("W36",))


def test_painting_over_a_rework_is_on_hold() -> None:
    facts = facts_for.shop(tasks=[facts_for.task("W36"), facts_for.task("W37")])
    ready = readiness(replace(facts, joints=(J07,)))
    reasons = ready["W36"].reasons
    assert [reason.sentence for reason in reasons if reason.why is Why.ON_HOLD] == [
        "J07 rework: nobody paints or covers a joint before its weld is accepted"
    ]
    assert ready["W36"].why is Why.ON_HOLD
    assert ready["W37"].why is Why.OUT_OF_HOURS


def test_fitting_what_lies_over_it_is_too() -> None:
    joint = replace(J07, tasks=(), components=("T09",))
    facts = facts_for.shop(
        components=[facts_for.component("T09")],
        tasks=[facts_for.task("W30", fits=("T09",))],
    )
    assert readiness(replace(facts, joints=(joint,)))["W30"].why is Why.ON_HOLD


def test_a_teardown_leaves_it_out_and_says_why() -> None:
    joint = replace(J07, components=("T02",))
    facts = facts_for.shop(
        components=[facts_for.component("T02"), facts_for.component("T09")],
        tasks=[facts_for.task("W36", reach=("T09",), in_teardown=True)],
        windows=facts_for.evenings(),
    )
    batch = teardown_batch(replace(facts, joints=(joint,)), "buggy")
    assert batch.question["tasks"][0]["ready"] == batch.question["deadline"]
    said = " ".join(batch.notes)
    assert "W36 waits: J07 rework: nobody paints" in said
    assert "J07 is rework, not accepted: T02 may not go on over it" in said


def welded_over(*, states=(), task="W34", also=()):
    """A shelf under a lid that lies over J07; W20 works on the shelf."""
    lid = facts_for.component("lid", **dict(states))
    facts = facts_for.shop(
        components=[facts_for.component("shelf", "lid"), lid],
        tasks=[facts_for.task("W20", reach=("shelf",), in_teardown=True), *also],
        windows=facts_for.evenings(),
    )
    joint = replace(J07, task=task, tasks=(), components=("lid",))
    return replace(facts, joints=(joint,))


def test_what_may_not_go_on_again_is_not_taken_off() -> None:
    facts = welded_over()
    batch = teardown_batch(facts, "buggy")
    answer = reckon("teardown", batch.question)
    assert answer["sessions"] == []
    assert [one["task"] for one in answer["left_out"]] == ["W20"]
    assert any(note.startswith("W20 waits: what must come off") for note in batch.notes)
    # The same machine with its weld accepted is taken apart for it.
    plain = teardown_batch(replace(facts, joints=()), "buggy")
    (session,) = reckon("teardown", plain.question)["sessions"]
    assert ("remove", "lid") in [(one["do"], one["id"]) for one in session["steps"]]


def test_what_is_off_over_a_bare_weld_is_left_off() -> None:
    batch = teardown_batch(welded_over(states={"is_on": False}), "buggy")
    states = {part["id"]: part["state"] for part in batch.question["components"]}
    assert states == {"shelf": "fitted", "lid": "absent"}
    assert not any(note.startswith("W20 waits") for note in batch.notes)


def test_a_weld_in_the_teardown_comes_before_what_lies_over_it() -> None:
    weld = facts_for.task("W34", reach=("shelf",), in_teardown=True)
    batch = teardown_batch(welded_over(also=(weld,)), "buggy")
    kept = {task["id"]: task["keeps_open"] for task in batch.question["tasks"]}
    assert kept == {"W20": [], "W34": ["lid"]}
    told = "J07 is rework: its weld is accepted after W34 before lid go on"
    assert told in batch.notes


def test_the_way_past_a_bare_weld_is_taken() -> None:
    """Where a second route does without the part over the weld, the plan goes by it."""
    shelf = facts_for.component("shelf", "lid", "hatch")
    parts = (shelf, facts_for.component("lid"), facts_for.component("hatch"))
    facts = replace(welded_over(), components=parts)
    batch = teardown_batch(facts, "buggy")
    routes = {part["id"]: part["routes"] for part in batch.question["components"]}
    assert routes["shelf"] == [["hatch"]]
    assert not any(note.startswith("W20 waits") for note in batch.notes)
