"""Words for plans and their steps."""

from __future__ import annotations

from fabshop.words.word import Word, stamped


class PlanState(Word):
    PROPOSED = "proposed"
    ACCEPTED = "accepted"
    SUPERSEDED = "superseded"


class StepDo(Word):
    REMOVE = "remove"
    TASK = "task"
    REFIT = "refit"


stamped(
    (PlanState.SUPERSEDED, "dashed"),
)
