"""From the shop's facts to the schedule question: everything in one calendar."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any

from fabshop.reckoning.facts import Besides, Facts, Span, TaskFact
from fabshop.reckoning.firm import late_lead_days
from fabshop.reckoning.planning.calendar import loud, run_may_begin, without
from fabshop.reckoning.planning.context import Context, written
from fabshop.reckoning.planning.session import Block, Session
from fabshop.reckoning.planning.turns import stores_of, take_turns
from fabshop.reckoning.planning.way import BY, FINAL, LEFT, Stretch, Variant
from fabshop.reckoning.readiness.wants import Want

ME = "me"
BESIDES = "somebody in"
LOUD = "noise allowed"
NEVER = "a day nobody knows"
CURED = "~cured"
START_MINUTES = 30
"""Hands-on minutes up to which a run may be set going outside bench hours."""
_ANY = 99

Data = dict[str, Any]


@dataclass
class Asked:
    """The question, and how its activities belong to the shop's tasks.

    `stretches` names a task's activities in their order, the clock's one behind them
    under `cured`; `tails` by activity the run and the cure that follow it; `blocks`
    the handling of the teardowns; `lines` the milestone of each order line that is
    waited for; `never` says why a final way is not among the ways.
    """

    question: Data = field(default_factory=dict)
    stretches: dict[str, tuple[str, ...]] = field(default_factory=dict)
    tails: dict[str, Stretch] = field(default_factory=dict)
    blocks: dict[str, Block] = field(default_factory=dict)
    lines: dict[str, str] = field(default_factory=dict)
    never: dict[str, str] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)


def schedule_question(
    facts: Facts,
    besides: Besides,
    *,
    late: bool = False,
    sessions: Iterable[Session] = (),
    pinned: Mapping[str, str] | None = None,
    time_limit_s: float = 5.0,
) -> Asked:
    """All unfinished work of all builds up to the last pack-out, as one question.

    `late` takes every parcel on its late day. `sessions` are the teardowns as they
    are ordered. `pinned` leaves a task only the way of that id.
    """
    context = Context(facts, besides, late=late)
    ordered = tuple(sessions)
    pins = {name: way for one in ordered for name, way in one.ways.items()}
    return _Asking(context, ordered, pins | dict(pinned or {})).asked(time_limit_s)


class _Asking:
    def __init__(
        self, context: Context, sessions: tuple[Session, ...], pinned: Mapping[str, str]
    ) -> None:
        self.context, self.pinned = context, pinned
        self.sessions = [s for s in sessions if context.tasks.keys() & set(s.tasks)]
        self.out = Asked()
        self.resources: dict[str, Data] = {}
        self.activities: dict[str, Data] = {}
        self.runs: dict[str, list[str]] = {}
        """By machine, the activities whose hands-on ends with its run begun."""

    def asked(self, time_limit_s: float) -> Asked:
        context = self.context
        self._resource(ME, context.bench, 1)
        placed = {name for session in self.sessions for name in session.tasks}
        for task in context.tasks.values():
            self._task(task, in_session=task.id in placed)
        for session in self.sessions:
            self._in_order(session)
        take_turns(self.activities, self.runs, self.out.tails)
        self._helpers_are_said()
        self.out.question = {
            "origin": written(context.origin),
            "resources": list(self.resources.values()),
            "stores": stores_of(self.activities, self.context.besides.stores),
            "activities": list(self.activities.values()),
            "time_limit_s": time_limit_s,
        }
        if context.deadline is not None:
            self.out.question["deadline"] = written(context.horizon)
        return self.out

    # Tasks

    def _task(self, task: TaskFact, *, in_session: bool) -> None:
        context = self.context
        offered = self._offered(task)
        count = max((len(v.stretches) for v in offered), default=1)
        names = [task.id, *(f"{task.id}#{n}" for n in range(2, count + 1))]
        self.out.stretches[task.id] = tuple(names)
        every, final = context.befores(task)
        after = [link for name in every for link in self._after(name)]
        only = [link for name in final for link in self._after(name)]
        only += [{"id": self._line(want)} for want in context.wants.get(task.id, ())]
        cures = self._cures_apart(task, in_session)
        for place, name in enumerate(names):
            ways = []
            for variant in offered:
                if place < len(variant.stretches):
                    ways += self._ways(task, variant, place, names, only, cures)
            if not place and not ways:
                ways = [self._no_way()]
            if not place and self.pinned.get(task.id) == LEFT:
                ways = [self._left(task, cures)]
            elif not place and in_session and not (task.required or task.wished):
                ways.append(self._left(task, cures))
            activity: Data = {
                "id": name,
                "ways": ways,
                "after": after if not place else [self._before(names, place, offered)],
                "unbroken": task.unbroken,
                "required": (task.required or task.wished or in_session) and not place,
                "due": written(self._due(task, offered, place)),
            }
            ready = None if place else context.ready(task)
            if ready:
                activity["ready"] = written(ready)
            self.activities[name] = activity
        if cures:
            self.activities[task.id + CURED] = {
                "id": task.id + CURED,
                "ways": [{"id": "cure", "minutes": cures}],
                "after": [{"id": task.id}],
                "required": False,
            }

    def _offered(self, task: TaskFact) -> list[Variant]:
        never = self.context.never(task)
        if never:
            self.out.never[task.id] = never
        offered = [
            variant
            for variant in self.context.variants[task.id]
            if not (never and variant.id == FINAL and variant.is_final)
        ]
        pin = self.pinned.get(task.id)
        return [v for v in offered if pin in (None, v.id)] or offered

    def _cures_apart(self, task: TaskFact, in_session: bool) -> int:
        """Minutes of a cure that another way of the task does without."""
        final = self.context.variants[task.id][0]
        apart = len(self.context.variants[task.id]) > 1 or in_session
        alone = len(final.stretches) == 1 and not final.stretches[0].machine
        return final.stretches[0].tail if apart and alone else 0

    def _after(self, name: str) -> list[Data]:
        """Links to a task: all its activities, and the clock behind the last."""
        variants = self.context.variants[name]
        count = max(len(variant.stretches) for variant in variants)
        links: list[Data] = [{"id": name}]
        links += [{"id": f"{name}#{n}"} for n in range(2, count + 1)]
        tail = variants[0].stretches[-1].tail
        in_session = any(name in session.tasks for session in self.sessions)
        if self._cures_apart(self.context.tasks[name], in_session):
            links.append({"id": name + CURED})
        elif tail:
            links[-1] = {**links[-1], "lag": tail}
        return links

    def _before(self, names: list[str], place: int, offered: list[Variant]) -> Data:
        tail = max(
            v.stretches[place - 1].tail for v in offered if place <= len(v.stretches)
        )
        return {"id": names[place - 1], "lag": tail}

    def _due(self, task: TaskFact, offered: list[Variant], place: int) -> Any:
        tail = max(
            (sum(s.tail for s in v.stretches[place:]) for v in offered), default=0
        )
        in_session = any(task.id in session.tasks for session in self.sessions)
        if self._cures_apart(task, in_session) and self.context.followers[task.id]:
            tail = 0
        by = self.context.pack_out(task) - timedelta(minutes=tail)
        return max(by, self.context.origin)

    # Ways

    def _ways(
        self,
        task: TaskFact,
        variant: Variant,
        place: int,
        names: list[str],
        only: list[Data],
        cures: int,
    ) -> list[Data]:
        stretch = variant.stretches[place]
        name = names[place]
        base: Data = {"id": variant.id, "minutes": stretch.minutes}
        last = place == len(variant.stretches) - 1
        if last and variant.points:
            base["points"] = variant.points
        if not place:
            if variant.is_final and only:
                base["after"] = only
            if variant.takes:
                base["takes"] = {n: milli / 1000 for n, milli in variant.takes.items()}
            if not variant.is_final:
                spared = [*names[len(variant.stretches) :]]
                spared += [task.id + CURED] if cures else []
                base["spares"] = spared
        also = self._also(task, variant)
        if stretch.tail and variant.id == FINAL:
            self.out.tails[name] = stretch
        if stretch.machine:
            also[self._run_resource(stretch.run)] = 1
            self.runs.setdefault(stretch.machine, []).append(name)
        ways = [base | {"uses": {ME: 1} | also if stretch.minutes else also}]
        if stretch.machine and stretch.minutes <= START_MINUTES:
            besides = without(self.context.attended, self.context.bench)
            if besides:
                self._resource(BESIDES, besides, 1)
                uses = {BESIDES: 1} | also
                ways.append(base | {"id": f"{variant.id}{BY}{BESIDES}", "uses": uses})
        if task.may_help:
            for helper in self._helpers():
                uses = {helper: 1} | also
                ways.append(base | {"id": f"{variant.id}{BY}{helper}", "uses": uses})
        return ways

    def _also(self, task: TaskFact, variant: Variant) -> dict[str, int]:
        """What limits the hours: noise, and how long what it takes may be used."""
        found: dict[str, int] = {}
        context = self.context
        if task.noisy and variant.is_final:
            spans = loud(context.facts, context.horizon)
            if without((Span(context.origin, context.horizon),), spans):
                self._resource(LOUD, spans, _ANY)
                found[LOUD] = 1
        for store in context.besides.stores:
            by = store.use_by
            if store.id in variant.takes and by and by < context.horizon:
                until = max(by, context.origin)
                spans = (Span(context.origin, until),) if until > context.origin else ()
                self._resource(f"{store.id} in date", spans, _ANY)
                found[f"{store.id} in date"] = 1
        return found

    def _left(self, task: TaskFact, cures: int) -> Data:
        spared = [*self.out.stretches[task.id][1:]]
        spared += [task.id + CURED] if cures else []
        return {"id": LEFT, "minutes": 0, "spares": spared}

    def _no_way(self) -> Data:
        self._resource(NEVER, (), 1)
        return {"id": FINAL, "minutes": 1, "uses": {NEVER: 1}}

    # Around them

    def _line(self, want: Want) -> str:
        """The milestone of an order line that is not here yet."""
        context = self.context
        name = want.line
        if name in self.activities:
            return name
        comes = context.comes(want.arrival)
        order = context.facts.order_by_id[context.facts.line_by_id[name].order]
        activity: Data = {
            "id": name,
            "ways": [{"id": "comes", "minutes": 0}],
            "required": False,
        }
        if comes is None:
            activity["ways"] = [self._no_way()]
        elif comes > context.origin:
            activity["ready"] = written(comes)
        lead = order.lead_likely_days
        if context.late:
            lead = late_lead_days(context.facts, order)
        if order.sent_with in context.tasks and want.arrival and want.arrival.unsent:
            lag = (lead or 0) * 24 * 60
            activity["after"] = [
                {**link, "lag": link.get("lag", 0) + lag}
                for link in self._after(order.sent_with)
            ]
        self.activities[name] = activity
        self.out.lines[name] = order.id
        return name

    def _in_order(self, session: Session) -> None:
        """The steps of a teardown one after another, each behind what cures over it."""
        before = ""
        placed = 0
        for block in session.blocks():
            if block.is_task and block.ids[0] not in self.context.tasks:
                continue
            name = block.ids[0] if block.is_task else block.id
            waits = [
                {"id": task + CURED}
                for task in block.waits
                if task + CURED in self.activities
            ]
            if not block.is_task:
                self.activities[name] = {
                    "id": name,
                    "ways": [
                        {"id": block.do, "minutes": block.minutes, "uses": {ME: 1}}
                    ],
                    "after": [],
                    "required": True,
                }
                self.out.blocks[name] = block
            activity = self.activities[name]
            links = [*activity["after"], *waits]
            if before:
                links.append({"id": before})
            if placed == 0 or block.session != placed:
                links += [{"id": gate} for gate in self._gates(session, block.session)]
            known = {link["id"]: link for link in links}
            activity["after"] = list(known.values())
            before, placed = name, block.session

    def _gates(self, session: Session, number: int) -> list[str]:
        """The lines that its tasks want as they were asked: it begins with all here."""
        found: dict[str, None] = {}
        for block in session.blocks():
            if block.is_task and block.session == number:
                task = block.ids[0]
                if session.ways.get(task, FINAL) == FINAL:
                    for want in self.context.wants.get(task, ()):
                        if want.line in self.activities:
                            found[want.line] = None
        return list(found)

    def _run_resource(self, minutes: int) -> str:
        context = self.context
        name = f"a run of {minutes} min may begin"
        spans = run_may_begin(context.nothing, minutes, context.origin, context.horizon)
        self._resource(name, spans, _ANY)
        return name

    def _helpers(self) -> list[str]:
        names = []
        for name, _ in self.context.facts.helper_windows:
            if name not in names:
                names.append(name)
                mine = [s for n, s in self.context.facts.helper_windows if n == name]
                self._resource(name, tuple(sorted(mine, key=lambda s: s.start)), 1)
        return names

    def _helpers_are_said(self) -> None:
        helped = any(task.may_help for task in self.context.tasks.values())
        if self.context.facts.helper_windows and not helped:
            names = dict.fromkeys(n for n, _ in self.context.facts.helper_windows)
            self.out.notes.append(
                f"No task says that a helper may do it: the hours of "
                f"{' and '.join(names)} are not planned."
            )

    def _resource(self, name: str, spans: tuple[Span, ...], capacity: int) -> None:
        if name not in self.resources:
            self.resources[name] = {
                "id": name,
                "capacity": capacity,
                "windows": [[written(s.start), written(s.end)] for s in spans],
            }
