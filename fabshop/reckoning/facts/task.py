"""Facts about tasks, open and finished."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from fabshop import words


@dataclass(frozen=True, slots=True)
class StageFact:
    kind: words.StageKind
    minutes: int
    machine: str = ""


@dataclass(frozen=True, slots=True)
class NeedFact:
    """`name` is a line id (`P02/1`), a rack code or a tool; None = the whole line."""

    kind: words.NeedKind
    name: str
    quantity_milli: int | None = None


@dataclass(frozen=True, slots=True)
class FallbackFact:
    title: str
    minutes: int
    points: int = 0
    uses: str = ""
    chosen: bool = False
    pk: int = 0


@dataclass(frozen=True, slots=True)
class RunFact:
    """A run of a task's machine of which nobody has said what it came to.

    `machine` is its code, as in a stage; `name` what people call it.
    """

    id: int
    machine: str
    begun_at: datetime
    due_at: datetime
    name: str = ""


@dataclass(frozen=True, slots=True)
class TaskFact:
    """A piece of work. `build` is "" where it is shared by all builds.

    `minutes` is the latest guess of its hands-on minutes (not factored), `left` what
    a person said is left, `logged` what the log has booked on it so far. `wished`: it
    must be had in its final way; `may_help`: a helper may do it in the owner's place.
    """

    id: str
    build: str
    title: str
    family: str = "other"
    state: words.TaskState = words.TaskState.OPEN
    minutes: int = 0
    left: int | None = None
    logged: int = 0
    stages: tuple[StageFact, ...] = ()
    after: tuple[str, ...] = ()
    needs: tuple[NeedFact, ...] = ()
    opens: tuple[str, ...] = ()
    reach: tuple[str, ...] = ()
    remove: tuple[str, ...] = ()
    fits: tuple[str, ...] = ()
    keeps_open: tuple[str, ...] = ()
    required: bool = True
    points: int = 0
    unbroken: bool = False
    closed_up: bool = False
    for_good: bool = False
    is_hold: bool = False
    hold: words.HoldVerdict | None = None
    in_teardown: bool = False
    noisy: bool = False
    may_help: bool = False
    wished: bool = False
    cured_at: datetime | None = None
    run: RunFact | None = None
    under_way_by: tuple[str, ...] = ()
    fallbacks: tuple[FallbackFact, ...] = ()

    @property
    def is_finished(self) -> bool:
        return self.state in (
            words.TaskState.DONE,
            words.TaskState.ACCEPTED,
            words.TaskState.GIVEN_UP,
        )


@dataclass(frozen=True, slots=True)
class FinishedTask:
    """A finished task with a guess and logged minutes, for its family's factor."""

    family: str
    estimated: int
    logged: int
