"""Every reason why a task cannot be done now, in words, and when each clears."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from fabshop import words
from fabshop.reckoning.facts import Facts, RunFact, TaskFact
from fabshop.reckoning.readiness.free import Moments, moments
from fabshop.reckoning.readiness.hold import curing_over, holds_over
from fabshop.reckoning.readiness.joint import joint_sentence, joints_under
from fabshop.reckoning.readiness.rack import lacking_pieces
from fabshop.reckoning.readiness.shut import Shut, shut_in
from fabshop.reckoning.readiness.waits import teardown_before, waits_for
from fabshop.reckoning.readiness.wants import Want, unfinished, wants
from fabshop.reckoning.window import Bench
from fabshop.units import show_minutes, show_moment


@dataclass(frozen=True)
class Reason:
    """One thing in the way of a task; `clears_at` is None where nobody knows.

    `lines`, `components` (in the order they come off) and `tasks` name what is in
    the way; `minutes` is the handling where something is shut in.
    """

    why: words.Why
    sentence: str
    clears_at: datetime | None = None
    lines: tuple[str, ...] = ()
    components: tuple[str, ...] = ()
    tasks: tuple[str, ...] = ()
    minutes: int = 0
    pieces: tuple[str, ...] = ()


class Outlook:
    """The shop at one moment, with what all reasons share worked out once."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.tasks = unfinished(facts)
        self.waits = waits_for(facts)
        self.wants = wants(facts)
        self.lacking = lacking_pieces(facts)
        self.holds = holds_over(facts)
        self.shut = {task.id: shut_in(task, facts) for task in self.tasks}
        helpers = [span for _, span in facts.helper_windows]
        self.hands = Bench([*facts.windows, *helpers], facts.now)

    @cached_property
    def likely(self) -> Moments:
        return moments(self.facts, self.waits, self.wants, self.shut, late=False)

    @cached_property
    def late(self) -> Moments:
        return moments(self.facts, self.waits, self.wants, self.shut, late=True)

    def reasons(self, task: TaskFact) -> tuple[Reason, ...]:
        """All that is in the way of this task now, the weightiest first."""
        return (
            *(_wants_part(want) for want in self.wants.get(task.id, ())),
            *self._lacks_pieces(task),
            *self._after_others(task),
            *self._on_hold(task),
            *self._over_joints(task),
            *self._curing(task),
            *self._shut_in(task),
            *self._not_closed(task),
            *self._out_of_hours(task),
        )

    def _lacks_pieces(self, task: TaskFact) -> Iterator[Reason]:
        for lack in self.lacking.get(task.id, ()):
            yield Reason(words.Why.WANTS_PARTS, lack.sentence, pieces=(lack.piece,))

    def _after_others(self, task: TaskFact) -> Iterator[Reason]:
        for name in task.after:
            before = self.facts.task_by_id.get(name)
            if before is None or before.hold is words.HoldVerdict.FAILED:
                continue
            if not before.is_finished:
                yield Reason(
                    words.Why.AFTER_ANOTHER,
                    f"after {before.id} {before.title}",
                    clears_at=self.likely.done_at.get(name),
                    tasks=(name,),
                )
        work = teardown_before(task, self.facts)
        if work:
            ends = [self.likely.done_at.get(name) for name in work]
            known = [end for end in ends if end]
            yield Reason(
                words.Why.AFTER_ANOTHER,
                f"after the teardown: {' '.join(work)} to do on the opened machine",
                clears_at=max(known) if len(known) == len(ends) else None,
                tasks=work,
            )

    def _on_hold(self, task: TaskFact) -> Iterator[Reason]:
        for name in task.after:
            before = self.facts.task_by_id.get(name)
            if before and before.hold is words.HoldVerdict.FAILED:
                yield Reason(
                    words.Why.ON_HOLD,
                    f"hold {name} failed: {before.title}",
                    tasks=(name,),
                )
        for name in self.holds.get(task.id, ()):
            hold = self.facts.task_by_id[name]
            failed = hold.hold is words.HoldVerdict.FAILED
            closes = " ".join(task.fits)
            yield Reason(
                words.Why.ON_HOLD,
                f"hold {name} {'failed' if failed else 'is not signed'}: "
                f"{closes} may not go on before",
                clears_at=None if failed else self.likely.done_at.get(name),
                components=task.fits,
                tasks=(name,),
            )

    def _over_joints(self, task: TaskFact) -> Iterator[Reason]:
        joints = joints_under(task, self.facts)
        if joints:
            yield Reason(words.Why.ON_HOLD, joint_sentence(joints))

    def _curing(self, task: TaskFact) -> Iterator[Reason]:
        before = [self.facts.task_by_id.get(name) for name in task.after]
        others = {
            other.id: other
            for other in (task, *before, *curing_over(task, self.facts))
            if other and (other.is_finished or other.id == task.id)
        }
        for other in others.values():
            if other.run is not None:
                is_due = other.run.due_at <= self.facts.now
                yield Reason(
                    words.Why.CURING,
                    run_sentence(other.id, other.run, self.facts.now),
                    clears_at=None if is_due else other.cured_at or other.run.due_at,
                    tasks=(other.id,),
                )
            elif other.cured_at and other.cured_at > self.facts.now:
                yield Reason(
                    words.Why.CURING,
                    f"{other.id} cures until {show_moment(other.cured_at)}",
                    clears_at=other.cured_at,
                    tasks=(other.id,),
                )

    def _shut_in(self, task: TaskFact) -> Iterator[Reason]:
        shut = self.shut[task.id]
        if shut.components or shut.minutes is None:
            yield Reason(
                words.Why.SHUT_IN,
                _shut_sentence(shut),
                components=shut.components,
                minutes=shut.minutes or 0,
            )

    def _not_closed(self, task: TaskFact) -> Iterator[Reason]:
        off = tuple(
            part.id
            for part in self.facts.components
            if part.build == task.build
            and not part.is_on
            and not part.is_absent
            and part.state is not words.ComponentState.RETIRED
        )
        if task.closed_up and off:
            yield Reason(
                words.Why.SHUT_IN,
                f"done with everything on: {' '.join(off)} off",
                components=off,
            )

    def _out_of_hours(self, task: TaskFact) -> Iterator[Reason]:
        now = self.facts.now
        today = self.facts.day_by_date.get(now.date())
        if self.hands.open_at(now) is None:
            opens_at = self.hands.next_start(now)
            yield Reason(
                words.Why.OUT_OF_HOURS,
                f"hours begin {show_moment(opens_at)}"
                if opens_at
                else f"no hours entered after {show_moment(now)}",
                clears_at=opens_at,
            )
        elif task.noisy and today and today.quiet_until and now < today.quiet_until:
            yield Reason(
                words.Why.OUT_OF_HOURS,
                f"quiet until {show_moment(today.quiet_until)}",
                clears_at=today.quiet_until,
            )


def run_sentence(task: str, run: RunFact, now: datetime) -> str:
    """What a machine is on; after its time it is still not over by itself."""
    machine = run.name or run.machine
    if run.due_at <= now:
        due = show_moment(run.due_at)
        return f"{task} on {machine}: due {due}, not confirmed"
    return f"{task} runs on {machine} until {show_moment(run.due_at)}"


def _wants_part(want: Want) -> Reason:
    return Reason(
        words.Why.WANTS_PARTS,
        want.sentence,
        clears_at=want.arrival.likely_at if want.arrival else None,
        lines=(want.line,),
    )


def _shut_sentence(shut: Shut) -> str:
    if shut.minutes is None:
        return "no way in is known"
    names = " ".join(shut.components)
    least = "at least " if shut.unknown else ""
    sentence = f"{names} off first, {least}{show_minutes(shut.minutes)}"
    if shut.unknown:
        sentence += f"; nobody has noted the minutes of {' '.join(shut.unknown)}"
    if shut.for_good:
        sentence += f"; {' '.join(shut.for_good)} is for good: off only cut out"
    return sentence
