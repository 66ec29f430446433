"""What may be asked of the reckoning, one kind a file; nothing here solves."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fabshop.reckoning.questions.balance import balance_question
from fabshop.reckoning.questions.battery import battery_question
from fabshop.reckoning.questions.blanks import blanks_question
from fabshop.reckoning.questions.cope import cope_question
from fabshop.reckoning.questions.cutlist import cutlist_question
from fabshop.reckoning.questions.schedule import schedule_question
from fabshop.reckoning.questions.strict import refuse
from fabshop.reckoning.questions.teardown import teardown_question

KINDS: dict[str, Callable[[object], Any]] = {
    "balance": balance_question,
    "battery": battery_question,
    "blanks": blanks_question,
    "cope": cope_question,
    "cutlist": cutlist_question,
    "schedule": schedule_question,
    "teardown": teardown_question,
}
"""How each kind of question is read from plain data."""


def parse(kind: str, question: object) -> Any:
    """The question as its frozen struct, or BadQuestion in one line."""
    if kind not in KINDS:
        refuse("kind", f"no question {kind!r}; there are: {', '.join(sorted(KINDS))}")
    return KINDS[kind](question)
