"""Why a task is left out, each reason true and in plain words."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.reckoning.ask import reckon
from tests.reckoning.teardown.asked import DECK, LID, LOOM, MONDAY, asked

ONE = {"windows": [MONDAY], "deadline": MONDAY[1]}


def why(task: dict[str, Any], **changes: Any) -> str:
    """The reason told for one task, the last of the question."""
    tasks = [*changes.pop("tasks", ()), task]
    answer = reckon("teardown", asked(tasks=tasks, **changes))
    reasons = {line["task"]: line["why"] for line in answer["left_out"]}
    return str(reasons[task["id"]])


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"minutes": 400}, "takes 400 minutes, and only 180 worked minutes lie"),
        ({"cure": 600}, "its cure of 600 minutes cannot be over by 2031-05-05T21:00"),
        ({"ready": "2031-05-05T20:45"}, "once what it needs is there, its 30 minutes"),
        ({"fits": ["deck"]}, "needs 'deck' off while it is done, and puts it on"),
        ({"closed": True}, "is done when all is on, and yet needs 'deck' off"),
        ({"minutes": 156}, "cannot be done by the deadline whatever else is left out"),
    ],
)
def test_what_cannot_be_done_alone_says_what_stands_against_it(
    changes: dict[str, Any], told: str
) -> None:
    assert why({**LOOM, **changes}, **ONE).startswith(told)


def test_unbroken_work_names_the_longest_window() -> None:
    short = {"windows": [MONDAY, ["2031-05-06T18:00", "2031-05-06T19:00"]]}
    told = why({**LOOM, "minutes": 200, "unbroken": True}, **short)
    assert told == (
        "may not be suspended, and its 200 minutes fit no window; the longest has 180"
    )


def test_a_loop_of_covers_is_named_in_words() -> None:
    ring = [{**LID, "routes": [["deck"]]}, DECK]
    assert why(LOOM, components=ring) == (
        "'deck' can never be reached: deck lies under lid, which lies under deck"
    )


def test_a_task_whose_forerunner_is_left_out_says_so() -> None:
    never = {"id": "never", "minutes": 999}
    told = why({"id": "then", "minutes": 1, "after": ["never"]}, tasks=[never])
    assert told == "comes after 'never', which is left out"


def test_a_task_that_costs_points_says_so() -> None:
    told = why({"id": "t", "minutes": 1, "points": -2, "required": False})
    assert told == "is not required and costs points (-2)"


def test_a_task_that_gives_way_to_what_counts_more_says_so() -> None:
    long = {"id": "nice", "minutes": 100, "required": False}
    told = why(long, tasks=[{"id": "must", "minutes": 100}], **ONE)
    assert told.startswith("could be done, but not together with the tasks")


def test_a_cover_lying_off_beneath_one_that_cannot_move_is_told() -> None:
    ghost = {"id": "ghost", "off": 1, "on": 1, "state": "absent"}
    under = {"id": "under", "minutes": 5, "fits": ["ghost"], "remove": ["ghost"]}
    assert "puts it on itself" in why(under, components=[ghost])
