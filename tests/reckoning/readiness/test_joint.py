"""A task that would close over a weld not accepted is on hold, and a plan says so."""

from __future__ import annotations

from dataclasses import replace

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
