"""Small teardown questions for the tests: two evenings, a lid, a deck under it."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.questions import parse
from fabshop.reckoning.teardown.problem import Problem, problem_of

MONDAY = ["2031-05-05T18:00", "2031-05-05T21:00"]
TUESDAY = ["2031-05-06T18:00", "2031-05-06T21:00"]
LID = {"id": "lid", "off": 4, "on": 6}
DECK = {"id": "deck", "off": 6, "on": 9, "routes": [["lid"]]}
LOOM = {"id": "loom", "minutes": 30, "remove": ["deck"]}


def asked(**changes: Any) -> dict[str, Any]:
    """A question that differs from the plain one as told."""
    return {
        "windows": [MONDAY, TUESDAY],
        "deadline": "2031-05-07T12:00",
        "components": [LID, DECK],
        "tasks": [LOOM],
        "time_limit_s": 30,
        **changes,
    }


def problem(**changes: Any) -> Problem:
    """The same question, compiled."""
    return problem_of(parse("teardown", asked(**changes)))
