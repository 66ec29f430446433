"""Orders that a machine refuses, each for one reason."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.reckoning.teardown.carried_out import first_fault
from fabshop.reckoning.teardown.choice import Step
from tests.reckoning.teardown.asked import LID, LOOM, problem

KINDS = {"-": "remove", "+": "refit", "!": "task"}
DRIVE = {"id": "drive", "minutes": 5, "closed": True}


def fault(order: str, **changes: Any) -> str:
    """The first step refused; `-1` takes component 1 off, `|` begins a session."""
    plan = tuple(
        tuple(Step(KINDS[word[0]], int(word[1]), k) for word in part.split())
        for k, part in enumerate(order.split("|"))
    )
    found = first_fault(problem(**changes), plan)
    if found is None:
        return ""
    sign = next(sign for sign, kind in KINDS.items() if kind == found.do)
    return f"{sign}{found.index}"


@pytest.mark.parametrize(
    ("order", "told"),
    [
        ("-0 -1 !0 +1 +0", ""),
        ("-1 -0 !0 +0 +1", "-1"),
        ("-0 !0 +0", "!0"),
        ("-0 -1 !0 +0 +1", "+1"),
        ("-0 -1 !0 +1", "+1"),
        ("-0 -1 !0 +1 +0 -0 +0", "-0"),
        ("+0 -0 -1 !0", "+0"),
    ],
)
def test_each_step_is_done_where_it_can_be(order: str, told: str) -> None:
    assert fault(order) == told


def test_closed_work_is_refused_while_anything_is_off() -> None:
    tasks = [LOOM, DRIVE]
    assert fault("-0 -1 !0 +1 +0 !1", tasks=tasks) == ""
    assert fault("-0 -1 !0 +1 !1 +0", tasks=tasks) == "!1"


def test_what_a_task_to_come_keeps_open_is_not_closed() -> None:
    tasks = [LOOM, {"id": "test", "minutes": 5, "keeps_open": ["deck"]}]
    assert fault("-0 -1 !0 !1 +1 +0", tasks=tasks) == ""
    assert fault("-0 -1 !0 +1 !1 +0", tasks=tasks) == "+1"


def test_what_lies_off_goes_on_in_the_last_session_and_not_before() -> None:
    changes = {"components": [{**LID, "state": "off"}], "tasks": [
        {"id": "a", "minutes": 1}, {"id": "b", "minutes": 1}]}  # fmt: skip
    assert fault("!0|!1 +0", **changes) == ""
    assert fault("!0 +0|!1", **changes) == "+0"
    assert fault("!0|!1", **changes) == "!1"
