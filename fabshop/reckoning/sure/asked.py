"""What `sure` is asked, as typed structs: plans, and what about them is in doubt."""

from __future__ import annotations

from typing import Annotated, Any

import msgspec
from msgspec import Meta

from fabshop.reckoning.questions.schedule import Name
from fabshop.reckoning.questions.strict import (
    Moment,
    minute_of,
    refuse,
    typed,
    unique_ids,
)

MAX_RUNS = 20_000
MAX_PLANS = 20
MAX_DOUBTS = 1_000
MAX_DAYS = 400

Names = Annotated[tuple[Name, ...], Meta(max_length=500)]
Factor = Annotated[float, Meta(gt=0, le=100)]


class Plan(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A schedule question and the answer that is kept: which ways, in which order."""

    id: Name
    question: dict[str, Any]
    answer: dict[str, Any]


class Arrival(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A line that activities wait for: one day drawn for all of them."""

    id: Name
    activities: Names
    early: Moment
    likely: Moment
    late: Moment


class Work(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """How the minutes of activities may turn out, as parts of those planned.

    `together`: one draw for all (a whole family turns out slow), else one for each.
    """

    id: Name
    activities: Names
    early: Factor
    likely: Factor
    late: Factor
    together: bool = False


class Asked(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Plans side by side under the same doubts; the first is the one that is kept."""

    plans: Annotated[tuple[Plan, ...], Meta(min_length=1, max_length=MAX_PLANS)]
    arrivals: Annotated[tuple[Arrival, ...], Meta(max_length=MAX_DOUBTS)] = ()
    work: Annotated[tuple[Work, ...], Meta(max_length=MAX_DOUBTS)] = ()
    resource: Name | None = None
    days: Annotated[tuple[Moment, ...], Meta(max_length=MAX_DAYS)] = ()
    runs: Annotated[int, Meta(ge=1, le=MAX_RUNS)] = 2_000
    seed: Annotated[int, Meta(ge=0, le=2**31)] = 20270903
    most: Annotated[int, Meta(ge=0, le=50)] = 10


def read(asked: object) -> Asked:
    """The question as its struct; BadQuestion, in one line, where it is malformed."""
    found = typed(asked, Asked)
    unique_ids(found.plans, "plans", "plan")
    unique_ids(found.arrivals, "arrivals", "arrival")
    unique_ids(found.work, "work", "work")
    for index, one in enumerate(found.arrivals):
        path = f"arrivals[{index}]"
        days = [minute_of(getattr(one, f), f"{path}.{f}") for f in _TRIPLE]
        _in_order(days, path)
    for index, work in enumerate(found.work):
        _in_order([work.early, work.likely, work.late], f"work[{index}]")
    for index, day in enumerate(found.days):
        minute_of(day, f"days[{index}]")
    return found


_TRIPLE = ("early", "likely", "late")


def _in_order(triple: list[float] | list[int], path: str) -> None:
    if not triple[0] <= triple[1] <= triple[2]:
        refuse(path, "early, likely and late do not come in this order")
