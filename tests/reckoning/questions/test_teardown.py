"""The teardown question as it may be sent, and what is refused of it."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.errors import BadQuestion
from fabshop.reckoning.questions import parse
from fabshop.reckoning.questions.teardown import MAX_SESSIONS, MAX_TASKS
from tests.reckoning.teardown.asked import DECK, LID, LOOM, asked


def test_what_is_left_out_has_the_defaults_of_the_format() -> None:
    question = parse("teardown", asked())
    assert question.setup_minutes == 0
    assert question.max_sessions == 1
    assert question.prefer == "early_finish"
    assert question.wait_for == "all"
    assert question.components[0].routes == ((),)
    assert question.components[0].state == "fitted"
    task = question.tasks[0]
    assert (task.reach, task.fits, task.cure, task.ready) == ((), (), 0, None)
    assert task.required and not (task.for_good or task.unbroken or task.closed)


def test_the_time_limit_is_five_seconds_unless_told() -> None:
    plain = asked()
    del plain["time_limit_s"]
    assert parse("teardown", plain).time_limit_s == 5


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"tasks": [{**LOOM, "after": ["weld-9"]}]},
         "tasks[0].after[0]: no task 'weld-9'"),
        ({"tasks": [{**LOOM, "reach": ["lid", "x"]}]},
         "tasks[0].reach[1]: no component 'x'"),
        ({"tasks": [LOOM, LOOM]}, "tasks[1].id: task 'loom' is already tasks[0]"),
        ({"components": [LID, LID, DECK]},
         "components[1].id: component 'lid' is already components[0]"),
        ({"components": [LID, {**DECK, "routes": [["deck"]]}]},
         "components[1].routes[0][0]: 'deck' cannot lie under itself"),
        ({"components": [LID, {**DECK, "routes": [["lid"], ["x"]]}]},
         "components[1].routes[1][0]: no component 'x'"),
        ({"tasks": [{**LOOM, "after": ["loom"]}]},
         "tasks[0].after[0]: no task can come after itself: 'loom' after 'loom'"),
        ({"tasks": [{**LOOM, "curing": 4}]}, "tasks[0].curing: unknown field"),
        ({"deadline": "tomorrow"},
         "deadline: 'tomorrow' is not a time like 2031-05-05T18:00"),
        ({"tasks": [{**LOOM, "ready": "2031-05-05T18:00:30"}]},
         "tasks[0].ready: '2031-05-05T18:00:30' is not a time like 2031-05-05T18:00"),
        ({"tasks": [{**LOOM, "minutes": 0}]}, "tasks[0].minutes: must be at least 1"),
        ({"prefer": "never"},
         "prefer: 'never' is none of the words that may stand here"),
        ({"windows": [["2031-05-05T18:00"]]},
         "windows[0]: must have exactly 2 entries"),
        ({"windows": [["2031-05-05T18:00", "2031-05-05T18:00"]]},
         "windows[0][1]: 2031-05-05T18:00 is not after the start 2031-05-05T18:00"),
    ],
)  # fmt: skip
def test_a_wrong_name_or_time_is_told_by_its_path(
    changes: dict[str, Any], told: str
) -> None:
    with pytest.raises(BadQuestion) as caught:
        parse("teardown", asked(**changes))
    assert str(caught.value) == told


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"tasks": [{**LOOM, "minutes": 0}]}, "tasks[0].minutes"),
        ({"tasks": [{**LOOM, "minutes": 10**30}]}, "tasks[0].minutes"),
        ({"tasks": [{**LOOM, "minutes": 2.5}]}, "tasks[0].minutes"),
        ({"tasks": [{**LOOM, "points": 10**9}]}, "tasks[0].points"),
        ({"setup_minutes": -1}, "setup_minutes"),
        ({"max_sessions": 0}, "max_sessions"),
        ({"max_sessions": MAX_SESSIONS + 1}, "max_sessions"),
        ({"prefer": "never"}, "prefer"),
        ({"wait_for": "none"}, "wait_for"),
        ({"time_limit_s": 0}, "time_limit_s"),
        ({"time_limit_s": float("nan")}, "time_limit_s"),
        ({"components": [{**LID, "state": "lost"}]}, "components[0].state"),
        ({"components": [{**LID, "id": " "}]}, "components[0].id"),
        ({"components": [{**LID, "id": "\ud800"}]}, "components[0].id"),
        ({"windows": [["2031-05-05T18:00"]]}, "windows[0]"),
        ({"tasks": [{**LOOM, "id": f"t{n}"} for n in range(MAX_TASKS + 1)]}, "tasks"),
    ],
)
def test_a_value_out_of_bounds_is_told_by_its_path_in_one_line(
    changes: dict[str, Any], path: str
) -> None:
    with pytest.raises(BadQuestion) as caught:
        parse("teardown", asked(**changes))
    assert str(caught.value).startswith(f"{path}: ")
    assert "\n" not in str(caught.value)
    assert caught.value.field == path


def test_more_than_can_be_planned_in_the_time_is_refused_with_its_size() -> None:
    many = [{"id": f"c{n}", "off": 1, "on": 1} for n in range(200)]
    one = [{"id": "t", "minutes": 1}]
    with pytest.raises(BadQuestion, match="^max_sessions: .* come to 2010; at most"):
        parse("teardown", asked(components=many, tasks=one, max_sessions=10))
