"""What the plan works with, read out of the facts."""

from __future__ import annotations

from datetime import timedelta

from fabshop import words
from fabshop.reckoning.facts import Besides, RunningFact, StageFact
from fabshop.reckoning.planning.context import Context, whole_minute, written
from tests.reckoning.facts_for import NOW, PACK_OUT, at, shop, task
from tests.reckoning.planning.planned import small_shop


def test_what_comes_before_every_way_and_what_before_the_final_one():
    context = Context(small_shop(), Besides())
    assert context.befores(context.tasks["shake"]) == (["pod", "nose"], [])
    assert context.deadline == PACK_OUT
    assert context.pack_out(context.tasks["pod"]) == PACK_OUT


def test_a_cure_begun_before_keeps_what_comes_after_it_waiting():
    done = task("glue", state=words.TaskState.DONE, cured_at=at(1, 6))
    context = Context(shop(tasks=[done, task("sand", after="glue")]), Besides())
    assert context.ready(context.tasks["sand"]) == at(1, 6)


def test_a_machine_that_runs_is_free_when_that_is_over():
    stages = (StageFact(words.StageKind.RUN, 600, "big"),)
    runs = task("a", state=words.TaskState.DONE, cured_at=at(1, 6), stages=stages)
    context = Context(shop(tasks=[runs, task("b", stages=stages)]), Besides())
    assert context.ready(context.tasks["b"]) == at(1, 6)


def test_moments_are_whole_minutes():
    assert whole_minute(NOW + timedelta(seconds=1)) == NOW + timedelta(minutes=1)
    assert written(NOW) == "2031-05-05T17:00"


def test_a_run_that_is_on_holds_its_machine_and_what_is_left_comes_behind_it():
    """A task whose run is on is told by what is behind the run: the clean-up stays."""
    stages = (
        StageFact(words.StageKind.HANDS_ON, 20),
        StageFact(words.StageKind.RUN, 600, "big"),
    )
    clean_up = (StageFact(words.StageKind.HANDS_ON, 20),)
    facts = shop(tasks=[task("a", left=20, stages=clean_up), task("b", stages=stages)])
    on = Besides(running=(RunningFact("a", "big", at(1, 6)),))
    context = Context(facts, on)
    assert context.variants["a"][0].minutes == 20
    assert context.ready(context.tasks["a"]) == at(1, 6)
    assert context.ready(context.tasks["b"]) == at(1, 6)
