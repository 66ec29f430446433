"""Machine runs as the kept plan puts them."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from fabshop import words
from fabshop.reckoning.facts import Facts, RunFact, StageFact, TaskFact
from fabshop.reckoning.overnight import machine_nights
from fabshop.reckoning.planning.nights import planned_nights
from tests.reckoning.facts_for import task
from tests.reckoning.planning.planned import small_shop, story_of

NONE = timedelta()


def run_task(code: str, hours: float, **said: object) -> TaskFact:
    stages = (
        StageFact(words.StageKind.HANDS_ON, 10),
        StageFact(words.StageKind.RUN, int(hours * 60), "B"),
    )
    return task(code, minutes=10, stages=stages, **said)


def printing() -> Facts:
    return small_shop(
        tasks=[run_task("hull", 9), run_task("lamp", 4, points=3), run_task("mast", 2)]
    )


def test_runs_stand_in_the_order_and_at_the_hours_of_the_plan():
    facts = printing()
    story = story_of(facts)
    (night,) = planned_nights(story, NONE, facts, (), machine_nights(facts, ()))
    planned = sorted(
        (row for row in story.rows if row.run_ends), key=lambda row: row.finish
    )
    assert [run.task for run in night.runs] == [row.task for row in planned]
    assert [run.begins_at for run in night.runs] == [row.finish for row in planned]
    assert [run.ends_at for run in night.runs] == [row.run_ends for row in planned]
    assert night.is_planned
    for run in night.runs:
        assert run.begins_at <= run.begin_by
        assert run.is_ready


def test_what_came_out_or_is_on_is_no_longer_ahead():
    facts = printing()
    story = story_of(facts)
    own = machine_nights(facts, ())
    on = RunFact(1, "B", facts.now, facts.now + timedelta(hours=9))
    states = {
        "hull": {"run": on},
        "lamp": {"state": words.TaskState.DONE},
    }
    then = replace(
        facts,
        tasks=tuple(replace(one, **states.get(one.id, {})) for one in facts.tasks),
    )
    (night,) = planned_nights(story, NONE, then, (), own)
    assert [run.task for run in night.runs] == ["mast"]


def test_what_is_ready_and_not_in_the_plan_is_named():
    facts = printing()
    story = story_of(facts)
    more = replace(facts, tasks=(*facts.tasks, run_task("oar", 3)))
    own = machine_nights(more, ())
    (night,) = planned_nights(story, NONE, more, (), own)
    assert night.unplanned == ("oar",)


def test_a_run_whose_hour_has_gone_by_is_begun_as_soon_as_it_can_be():
    facts = printing()
    story = story_of(facts)
    late = replace(facts, now=facts.now + timedelta(days=2))
    own = machine_nights(late, ())
    (night,) = planned_nights(story, NONE, late, (), own)
    assert night.runs[0].begins_at >= late.now
