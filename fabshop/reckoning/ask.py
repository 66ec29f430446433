"""One door for every question: plain data in, the answer as plain data out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fabshop.reckoning.balance import balance
from fabshop.reckoning.battery import battery
from fabshop.reckoning.cope import cope
from fabshop.reckoning.cutting import cut_list
from fabshop.reckoning.cutting.blanks import packed
from fabshop.reckoning.questions import parse
from fabshop.reckoning.questions.schedule import ScheduleQuestion
from fabshop.reckoning.questions.teardown import TeardownQuestion
from fabshop.reckoning.schedule import plan_schedule
from fabshop.reckoning.teardown import Known, plan_teardown

ANSWERS: dict[str, Callable[[Any], dict[str, Any]]] = {
    "balance": balance,
    "battery": battery,
    "blanks": packed,
    "cope": cope,
    "cutlist": cut_list,
    "schedule": plan_schedule,
    "teardown": plan_teardown,
}
"""How each kind of question is answered, once it has been read."""


def reckon(kind: str, question: object) -> dict[str, Any]:
    """The answer to a question; BadQuestion, in one line, where it is malformed."""
    asked = parse(kind, question)
    return ANSWERS[kind](asked)


def teardown_like(question: object, known: Known) -> dict[str, Any]:
    """The answer to a teardown question that keeps to the steps accepted before.

    `known` names them by session, as (do, id); of answers that are as good it is one
    that is in their order.
    """
    asked = parse("teardown", question)
    assert isinstance(asked, TeardownQuestion)
    return plan_teardown(asked, known)


def schedule_like(question: object, kept: dict[str, Any]) -> dict[str, Any]:
    """The answer to a schedule question that stays as one given before.

    `kept` is that answer; of plans that are as good it is that one again.
    """
    asked = parse("schedule", question)
    assert isinstance(asked, ScheduleQuestion)
    return plan_schedule(asked, kept)
