"""The teardown question that the shop's facts put, and what it takes for granted."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Literal

from fabshop.errors import BadInput, NotFound
from fabshop.reckoning.batching.bench import Taken, less_taken
from fabshop.reckoning.batching.gate import (
    Gate,
    Wait,
    cure_notes,
    gates_of,
    wait_note,
    waits_outside,
)
from fabshop.reckoning.facts import BuildFact, ComponentFact, Facts, TaskFact
from fabshop.reckoning.hours import factors_of, minutes_left
from fabshop.reckoning.readiness.free import Moments, clock_minutes
from fabshop.reckoning.readiness.hold import ancestors, curing_over, kept_open
from fabshop.reckoning.readiness.joint import (
    barred,
    joint_notes,
    joint_sentence,
    joints_under,
    opened,
    over_welds,
)
from fabshop.reckoning.readiness.reasons import Outlook
from fabshop.reckoning.window import Bench

Dates = Literal["likely", "late"]
WaitFor = Literal["each", "all"]
Prefer = Literal["late_start", "early_finish"]

_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True)
class Batch:
    """A teardown question, ready to be reckoned, and what must be said beside it.

    `tasks` are those in it; `offered` the build's other open tasks that work on its
    components; `unknown_minutes` the components of the question whose handling nobody
    has noted, which count as nothing.
    """

    question: dict[str, Any]
    tasks: tuple[str, ...]
    offered: tuple[str, ...]
    gates: tuple[Gate, ...]
    waits: tuple[Wait, ...]
    notes: tuple[str, ...]
    unknown_minutes: tuple[str, ...]


def default_tasks(facts: Facts, build: str) -> tuple[str, ...]:
    """The open tasks put into this build's planned teardown, in order of code.

    A task that all builds share is in it where it comes after one of them.
    """
    mine = [t for t in _open_tasks(facts, build) if t.in_teardown]
    own = {task.id for task in mine if task.build == build}
    return tuple(
        task.id
        for task in mine
        if task.build == build or own & ancestors(task.id, facts)
    )


def teardown_batch(
    facts: Facts,
    build: str,
    *,
    tasks: tuple[str, ...] | None = None,
    dates: Dates = "likely",
    wait_for: WaitFor = "all",
    max_sessions: int = 1,
    prefer: Prefer = "late_start",
    begin: datetime | None = None,
    taken: tuple[Taken, ...] = (),
) -> Batch:
    """The teardown of these tasks (by default those planned for it) as a question.

    Windows are the owner's from `begin` to pack-out, which is the deadline, less what
    the accepted teardowns of other builds have `taken`: there is one bench. Minutes
    are factored; runs and cures count on the clock. A hold keeps open what lies
    directly over its zone. Each task is ready when all the lines it wants are here,
    likely or late, and when the unfinished tasks outside the teardown that it comes
    after can be done at the earliest (their own parts and chains reckoned, the bench
    taken as doing nothing else). Done tasks are dropped.

    What cannot be dated: a part, or a task of the same build, of unknown day makes
    the task ready only at the deadline, so that the answer leaves it out and says
    so. A task of another build, or a shared one, that is unknown or too late does
    not hold this teardown up: packing has its place at the end all the same, and a
    note says what it is planned without. Waiting for all, a task done with
    everything on does not hold up the start of the session by the tasks outside
    that it comes after; `waits` has their moments, to be set beside the answer.
    What a done task that still cures keeps open binds the tasks that would fit it
    and is said in a note: a question cannot bind a refit to a cure begun before it.

    `begin` left out: waiting for all, it is now, and the session begins by itself
    when its last gate part is in; waiting for each, it is when every likely gate
    part but the last is in, since nothing is gained by a machine in pieces sooner.
    """
    return _Batching(facts, build, tasks, dates, wait_for, taken).batch(
        begin, max_sessions, prefer
    )


def _open_tasks(facts: Facts, build: str) -> list[TaskFact]:
    return sorted(
        (t for t in facts.tasks if t.build in (build, "") and not t.is_finished),
        key=lambda task: task.id,
    )


class _Batching:
    def __init__(
        self,
        facts: Facts,
        build: str,
        tasks: tuple[str, ...] | None,
        dates: Dates,
        wait_for: WaitFor,
        taken: tuple[Taken, ...],
    ) -> None:
        self.facts = facts
        self.taken = taken
        self.build = _with_deadline(facts, build)
        self.late = dates == "late"
        self.wait_for = wait_for
        self.outlook = Outlook(facts)
        self.parts = {p.id: p for p in facts.components if p.build == build}
        known = {task.id: task for task in _open_tasks(facts, build)}
        asked = default_tasks(facts, build) if tasks is None else tasks
        self.tasks = {name: known[name] for name in sorted(set(asked)) if name in known}
        self.within = self._closure()
        # What may not go on again is not taken off, nor put on where it is off.
        self.barred = barred(facts, frozenset(self.tasks)) & set(self.within)
        self.out_of_reach = set[str]()
        if self.barred:
            self.out_of_reach = opened(self.within) - opened(self.within, self.barred)
        self.notes: list[str] = []
        for name in sorted(set(asked) - set(known)):
            done = name in facts.task_by_id
            self.notes.append(
                f"{name} is finished and left away"
                if done and facts.task_by_id[name].is_finished
                else f"{name} is no open task of {self.build.name}"
            )
        self.others = tuple(
            task.id
            for task in known.values()
            if task.id not in self.tasks and self._works_on_it(task)
        )
        self.waits = waits_outside(
            self.tasks,
            self.build,
            self.outlook,
            self._moments,
            wait_for_all=wait_for == "all",
        )
        self.notes += [wait_note(wait, facts) for wait in self.waits]
        self.notes += cure_notes(facts, self.parts)
        self.notes += dict.fromkeys(
            f"The hours of {each.whose} are left out" for each in taken
        )
        self.notes += joint_notes(facts, build, frozenset(self.tasks))
        self.gates = gates_of(self.tasks, self.outlook)

    def batch(self, begin: datetime | None, max_sessions: int, prefer: Prefer) -> Batch:
        begin = _whole_minute(max(begin or self._begin(), self.facts.now))
        tasks = [self._task(task, begin) for task in self.tasks.values()]
        question = {
            "windows": self._windows(begin),
            "deadline": _written(self.deadline),
            "setup_minutes": self.facts.setup_minutes,
            "max_sessions": max_sessions,
            "prefer": prefer,
            "wait_for": self.wait_for,
            "components": [self._component(part) for part in self.within.values()],
            "tasks": tasks,
        }
        return Batch(
            question=question,
            tasks=tuple(self.tasks),
            offered=self.others,
            gates=self.gates,
            waits=self.waits,
            notes=tuple(dict.fromkeys(self.notes)),
            unknown_minutes=tuple(
                part.id
                for part in self.within.values()
                if part.off_minutes is None or part.on_minutes is None
            ),
        )

    @property
    def deadline(self) -> datetime:
        assert self.build.pack_out is not None
        return self.build.pack_out

    @property
    def _moments(self) -> Moments:
        return self.outlook.late if self.late else self.outlook.likely

    def _closure(self) -> dict[str, ComponentFact]:
        """What the tasks work on, all that lies over it, and what lies off already.

        No plan gains by taking anything else off, so the question leaves it away:
        a build may be far larger than a teardown of it.
        """
        ahead = [
            part.id
            for part in self.parts.values()
            if not part.is_on and not part.is_absent
        ]
        for task in self.tasks.values():
            ahead += (*task.opens, *task.reach, *task.remove, *task.fits)
        found: set[str] = set()
        while ahead:
            name = ahead.pop()
            if name in self.parts and name not in found:
                found.add(name)
                ahead += [over for route in self.parts[name].routes for over in route]
        return {name: part for name, part in self.parts.items() if name in found}

    def _works_on_it(self, task: TaskFact) -> bool:
        sites = (*task.opens, *task.reach, *task.remove, *task.fits)
        return any(name in self.parts for name in sites)

    def _begin(self) -> datetime:
        if self.wait_for == "all":
            return self.facts.now
        comes = sorted({g.likely_at for g in self.gates if g.likely_at is not None})
        return comes[-2] if len(comes) > 1 else self.facts.now

    def _windows(self, begin: datetime) -> list[list[str]]:
        return [
            [_written(span.start), _written(min(span.end, self.deadline))]
            for span in less_taken(Bench(self.facts.windows, begin).spans, self.taken)
            if span.start < self.deadline
        ]

    def _component(self, part: ComponentFact) -> dict[str, Any]:
        state = "fitted" if part.is_on else "off"
        routes = part.routes or ((),)
        ways = [way for way in routes if self.barred.isdisjoint(way)] or routes
        is_left_off = part.is_absent or (not part.is_on and part.id in self.barred)
        return {
            "id": part.id,
            "off": part.off_minutes or 0,
            "on": part.on_minutes or 0,
            "routes": [
                [name for name in route if name in self.parts] for route in ways
            ],
            "state": "absent" if is_left_off else state,
        }

    def _task(self, task: TaskFact, begin: datetime) -> dict[str, Any]:
        sited = task.reach or task.remove or task.fits
        ready = self._ready(task)
        asked: dict[str, Any] = {
            "id": task.id,
            "minutes": max(1, minutes_left(task, factors_of(self.facts))),
            "reach": self._mine(task.reach if sited else task.opens),
            "remove": self._mine(task.remove),
            "fits": self._mine(task.fits),
            "for_good": task.for_good,
            "cure": clock_minutes(task),
            "keeps_open": self._mine(
                tuple(
                    sorted(
                        {*kept_open(task, self.facts), *over_welds(task, self.facts)}
                    )
                )
            ),
            "unbroken": task.unbroken,
            "closed": task.closed_up,
            "after": self._after(task),
            "required": task.required,
            "points": task.points,
        }
        if ready > begin:
            asked["ready"] = _written(_whole_minute(ready))
        return asked

    def _mine(self, names: tuple[str, ...]) -> list[str]:
        return [name for name in names if name in self.within]

    def _after(self, task: TaskFact) -> list[str]:
        """What comes before it in the teardown, also by way of tasks outside it."""
        found: dict[str, None] = {}
        ahead = list(task.after)
        seen: set[str] = set()
        while ahead:
            name = ahead.pop(0)
            if name in self.tasks:
                found[name] = None
            elif name not in seen:
                seen.add(name)
                outside = self.facts.task_by_id.get(name)
                if outside is not None and not outside.is_finished:
                    ahead += outside.after
        return sorted(found)

    def _ready(self, task: TaskFact) -> datetime:
        """When all it needs from outside is there; the deadline where nobody knows."""
        moments = [self.facts.now]
        for want in self.outlook.wants.get(task.id, ()):
            arrival = want.arrival
            comes = arrival and (arrival.late_at if self.late else arrival.likely_at)
            if comes is None:
                self.notes.append(f"{task.id} waits for {want.sentence}")
            moments.append(comes or self.deadline)
        for wait in self.waits:
            if wait.task == task.id and wait.binds:
                moments.append(wait.done_at or self.deadline)
        for name in task.after:
            before = self.facts.task_by_id.get(name)
            if before is not None and before.is_finished and before.cured_at:
                moments.append(before.cured_at)
        if task.run is not None:
            # What is left of it comes behind the run that its machine is on.
            moments.append(task.run.due_at)
        earlier = ancestors(task.id, self.facts)
        over = joints_under(task, self.facts)
        # Welds that come before it are waited for with the tasks that make them.
        if bare := tuple(joint for joint in over if joint.task not in earlier):
            self.notes.append(f"{task.id} waits: {joint_sentence(bare)}")
            moments.append(self.deadline)
        sites = {*task.reach, *task.opens, *task.remove}
        if sites & self.out_of_reach or self.barred.intersection(task.remove):
            self.notes.append(
                f"{task.id} waits: what must come off for it may not go on again over "
                "welds that are not accepted"
            )
            moments.append(self.deadline)
        for other in curing_over(task, self.facts):
            moments.append(other.cured_at or self.facts.now)
        return max(moments)


def _with_deadline(facts: Facts, build: str) -> BuildFact:
    known = facts.build_by_id.get(build)
    if known is None:
        raise NotFound(f"No live build {build!r} is known here.", field="build")
    if known.pack_out is None:
        raise BadInput(
            f"{known.name} has no pack-out moment yet; a teardown is planned back "
            "from it. Set it on the build.",
            field="pack_out_at",
        )
    return known


def _whole_minute(moment: datetime) -> datetime:
    floor = moment.replace(second=0, microsecond=0)
    return floor if floor == moment else floor + _MINUTE


def _written(moment: datetime) -> str:
    return moment.isoformat(timespec="minutes")
