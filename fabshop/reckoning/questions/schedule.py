"""The schedule question: who does what, when, and which way, with what there is."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from fabshop.reckoning.questions.strict import (
    Moment,
    a_loop,
    known,
    minute_of,
    ordered_windows,
    refuse,
    typed,
    unique_ids,
)

MAX_ACTIVITIES = 500
MAX_WAYS = 20
"""Ways of one activity."""
MAX_WAYS_IN_ALL = 2_000
MAX_RESOURCES = 60
MAX_STORES = 100
MAX_WINDOWS = 1_000
"""Windows of one resource."""
MAX_NAMES = 400
MAX_MINUTES = 100_000
"""The longest way or lag: ten weeks of clock."""
MAX_CAPACITY = 1_000_000
MAX_AMOUNT = 1e9
MAX_POINTS = 1_000_000

Minutes = Annotated[int, Meta(ge=0, le=MAX_MINUTES)]
Name = Annotated[str, Meta(min_length=1, max_length=200)]
Amount = Annotated[float, Meta(ge=0, le=MAX_AMOUNT)]
Units = Annotated[int, Meta(ge=0, le=MAX_CAPACITY)]


class Resource(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Somebody or something that work holds from its start to its finish."""

    id: Name
    capacity: Units = 1
    windows: (
        Annotated[tuple[tuple[Moment, Moment], ...], Meta(max_length=MAX_WINDOWS)]
        | None
    ) = None


class Store(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What is used up."""

    id: Name
    amount: Amount


class After(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What comes before, and how many clock minutes lie between."""

    id: Name
    lag: Minutes = 0


Before = Annotated[tuple[After, ...], Meta(max_length=MAX_NAMES)]


class Way(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One way to do an activity."""

    id: Name
    minutes: Minutes
    uses: Annotated[dict[Name, Units], Meta(max_length=MAX_RESOURCES)] = {}
    points: Annotated[int, Meta(ge=-MAX_POINTS, le=MAX_POINTS)] = 0
    takes: Annotated[dict[Name, Amount], Meta(max_length=MAX_STORES)] = {}
    after: Before = ()
    spares: Annotated[tuple[Name, ...], Meta(max_length=MAX_NAMES)] = ()


class Activity(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One thing to do, in exactly one of its ways."""

    id: Name
    ways: Annotated[tuple[Way, ...], Meta(min_length=1, max_length=MAX_WAYS)]
    pinned: Name | None = None
    after: Before = ()
    ready: Moment | None = None
    due: Moment | None = None
    unbroken: bool = False
    required: bool = True


class ScheduleQuestion(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Everything that the plan of a shop hangs on."""

    origin: Moment
    activities: Annotated[tuple[Activity, ...], Meta(max_length=MAX_ACTIVITIES)]
    resources: Annotated[tuple[Resource, ...], Meta(max_length=MAX_RESOURCES)] = ()
    stores: Annotated[tuple[Store, ...], Meta(max_length=MAX_STORES)] = ()
    deadline: Moment | None = None
    time_limit_s: Annotated[float, Meta(gt=0, le=600)] = 5.0


def schedule_question(question: object) -> ScheduleQuestion:
    """The question, checked to the last name; BadQuestion says what is wrong."""
    asked = typed(question, ScheduleQuestion)
    ways = sum(len(activity.ways) for activity in asked.activities)
    if ways > MAX_WAYS_IN_ALL:
        refuse(
            "activities",
            f"have {ways} ways in all; at most {MAX_WAYS_IN_ALL} can be planned",
        )
    minute_of(asked.origin, "origin")
    if asked.deadline is not None:
        minute_of(asked.deadline, "deadline")
    resources = unique_ids(asked.resources, "resources", "resource")
    for index, resource in enumerate(asked.resources):
        if resource.windows is not None:
            ordered_windows(resource.windows, f"resources[{index}].windows")
    stores = unique_ids(asked.stores, "stores", "store")
    places = unique_ids(asked.activities, "activities", "activity")
    for index, activity in enumerate(asked.activities):
        _check_activity(activity, f"activities[{index}]", places)
        for number, way in enumerate(activity.ways):
            where = f"activities[{index}].ways[{number}]"
            _check_keys(way.uses, resources, f"{where}.uses", "resource")
            _check_keys(way.takes, stores, f"{where}.takes", "store")
            _check_before(way.after, places, f"{where}.after")
            known(way.spares, places, f"{where}.spares", "activity")
            if activity.id in way.spares:
                at = way.spares.index(activity.id)
                refuse(f"{where}.spares[{at}]", f"{activity.id!r} cannot spare itself")
    _check_loops(asked.activities, places)
    return asked


def _check_activity(activity: Activity, path: str, places: dict[str, int]) -> None:
    ways = unique_ids(activity.ways, f"{path}.ways", "way")
    if activity.pinned is not None and activity.pinned not in ways:
        refuse(f"{path}.pinned", f"{activity.id!r} has no way {activity.pinned!r}")
    _check_before(activity.after, places, f"{path}.after")
    for field in ("ready", "due"):
        moment = getattr(activity, field)
        if moment is not None:
            minute_of(moment, f"{path}.{field}")


def _check_keys(
    named: dict[str, float] | dict[str, int],
    places: dict[str, int],
    path: str,
    noun: str,
) -> None:
    for name in named:
        if name not in places:
            refuse(path, f"no {noun} {name!r}")


def _check_before(before: Before, places: dict[str, int], path: str) -> None:
    for index, one in enumerate(before):
        if one.id not in places:
            refuse(f"{path}[{index}]", f"no activity {one.id!r}")


def _check_loops(activities: tuple[Activity, ...], places: dict[str, int]) -> None:
    """What comes after itself in every way is refused; in some ways, never planned."""
    before = [[places[one.id] for one in activity.after] for activity in activities]
    for index, activity in enumerate(activities):
        for number, way in enumerate(activity.ways):
            names = [one.id for one in way.after]
            if activity.id in names:
                where = f"activities[{index}].ways[{number}].after"
                refuse(
                    f"{where}[{names.index(activity.id)}]",
                    f"{activity.id!r} cannot come after itself",
                )
    loop = a_loop(before)
    if loop:
        names = [repr(activities[index].id) for index in loop]
        wanted = activities[loop[1]].id
        at = [one.id for one in activities[loop[0]].after].index(wanted)
        refuse(
            f"activities[{loop[0]}].after[{at}]",
            "no activity can come after itself: " + " after ".join(names),
        )
