"""The teardown question: which tasks go into which teardown, and in what order."""

from __future__ import annotations

from typing import Annotated, Literal

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

MAX_COMPONENTS = 600
MAX_TASKS = 200
MAX_WINDOWS = 1_000
MAX_SESSIONS = 20
MAX_SIZE = 2_000
"""Components and tasks together, times sessions: what can be begun in the time."""
MAX_NAMES = 400
"""How many names one list (`reach`, `after`, a route ...) may hold."""
MAX_ROUTES = 20
MAX_MINUTES = 100_000
"""The longest task, cure, set-up or handling of one component: ten weeks of clock."""
MAX_POINTS = 1_000_000

Minutes = Annotated[int, Meta(ge=0, le=MAX_MINUTES)]
Name = Annotated[str, Meta(min_length=1, max_length=200)]
Names = Annotated[tuple[Name, ...], Meta(max_length=MAX_NAMES)]


class Component(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One place on the machine: minutes off and on, and what lies over it."""

    id: Name
    off: Minutes
    on: Minutes
    routes: Annotated[tuple[Names, ...], Meta(max_length=MAX_ROUTES)] = ((),)
    state: Literal["fitted", "off", "absent"] = "fitted"


class Task(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One piece of work on the opened machine."""

    id: Name
    minutes: Annotated[int, Meta(ge=1, le=MAX_MINUTES)]
    reach: Names = ()
    remove: Names = ()
    fits: Names = ()
    for_good: bool = False
    cure: Minutes = 0
    keeps_open: Names = ()
    unbroken: bool = False
    closed: bool = False
    after: Names = ()
    ready: Moment | None = None
    required: bool = True
    points: Annotated[int, Meta(ge=-MAX_POINTS, le=MAX_POINTS)] = 0


class TeardownQuestion(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Everything that the teardown of one machine hangs on."""

    windows: Annotated[tuple[tuple[Moment, Moment], ...], Meta(max_length=MAX_WINDOWS)]
    deadline: Moment
    components: Annotated[tuple[Component, ...], Meta(max_length=MAX_COMPONENTS)]
    tasks: Annotated[tuple[Task, ...], Meta(max_length=MAX_TASKS)]
    setup_minutes: Minutes = 0
    max_sessions: Annotated[int, Meta(ge=1, le=MAX_SESSIONS)] = 1
    prefer: Literal["early_finish", "late_start"] = "early_finish"
    wait_for: Literal["all", "each"] = "all"
    time_limit_s: Annotated[float, Meta(gt=0, le=600)] = 5.0


def teardown_question(question: object) -> TeardownQuestion:
    """The question, checked to the last name; BadQuestion says what is wrong."""
    asked = typed(question, TeardownQuestion)
    size = (len(asked.components) + len(asked.tasks)) * asked.max_sessions
    if size > MAX_SIZE:
        refuse(
            "max_sessions",
            f"components and tasks, times sessions, come to {size}; "
            f"at most {MAX_SIZE} can be planned",
        )
    ordered_windows(asked.windows)
    minute_of(asked.deadline, "deadline")
    components = unique_ids(asked.components, "components", "component")
    tasks = unique_ids(asked.tasks, "tasks", "task")
    for index, component in enumerate(asked.components):
        _check_routes(component, f"components[{index}]", components)
    for index, task in enumerate(asked.tasks):
        _check_names(task, f"tasks[{index}]", components, tasks)
    _check_after(asked.tasks, tasks)
    return asked


def _check_routes(component: Component, path: str, components: dict[str, int]) -> None:
    for number, route in enumerate(component.routes):
        where = f"{path}.routes[{number}]"
        known(route, components, where, "component")
        if component.id in route:
            at = route.index(component.id)
            refuse(f"{where}[{at}]", f"{component.id!r} cannot lie under itself")


def _check_names(
    task: Task, path: str, components: dict[str, int], tasks: dict[str, int]
) -> None:
    for field in ("reach", "remove", "fits", "keeps_open"):
        known(getattr(task, field), components, f"{path}.{field}", "component")
    known(task.after, tasks, f"{path}.after", "task")
    if task.ready is not None:
        minute_of(task.ready, f"{path}.ready")


def _check_after(tasks: tuple[Task, ...], places: dict[str, int]) -> None:
    loop = a_loop([[places[name] for name in task.after] for task in tasks])
    if loop:
        names = [repr(tasks[index].id) for index in loop]
        at = tasks[loop[0]].after.index(tasks[loop[1]].id)
        refuse(
            f"tasks[{loop[0]}].after[{at}]",
            "no task can come after itself: " + " after ".join(names),
        )
