"""The plan of a shop from its facts: teardowns ordered, everything in its time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fabshop.reckoning.ask import teardown_like
from fabshop.reckoning.batching import teardown_batch
from fabshop.reckoning.facts import Besides, Facts
from fabshop.reckoning.planning import (
    FINAL,
    PLAN_B,
    Asked,
    Session,
    Teardown,
    base_of,
    schedule_question,
    told_beside,
    with_ways,
)
from fabshop.reckoning.planning.short import short_words
from fabshop.reckoning.readiness.wants import wants
from fabshop.reckoning.rough.plan import plan_shop, rank
from fabshop.reckoning.rough.price import prices

Data = dict[str, Any]
_TEARDOWN_S = 8.0
"""It ends when it is proven, most often in one; by the clock only on a busy machine."""
_ROUNDS = 3


def shop_plan(
    facts: Facts,
    besides: Besides,
    teardowns: Sequence[Teardown],
    *,
    late: bool,
    time_limit_s: float,
    kept: Data | None = None,
    quick: bool = False,
) -> Data:
    """The question, its answer and what stands beside it, as plain data.

    The teardown is ordered first, as if nothing else were to be done. A must of it that
    cannot be done its final way in time is asked by Plan B. Its steps then take
    their place in the plan, and where the plan takes other ways for them, it is
    ordered once more for those; the best of the plans counts. `kept` is the answer
    before, which stays where none is better. `quick` asks once, with the teardown
    ordered as it was in that.
    """
    before = (kept or {}).get("activities", ())
    like = {row["id"]: base_of(row["way"]) for row in before}

    def planned(sessions: Sequence[Session]) -> _Candidate:
        asked = schedule_question(
            facts, besides, late=late, sessions=sessions, time_limit_s=time_limit_s
        )
        return _Candidate(sessions, asked, plan_shop(asked.question, kept))

    ways = _taken_before(facts, like) if quick else {}
    best = planned([_ordered(facts, one, late, ways) for one in teardowns])
    instead: list[Data] = []
    others_of = () if quick else _others(facts, best, teardowns, late)
    for others, what in others_of:
        new = planned(others)
        if what:
            instead.append(what)
        if new.rank >= best.rank:
            worse, best = best, new
        else:
            worse = new
        if what:
            what |= {
                "points": worse.answer["points"],
                "finish": worse.answer["finish"],
                "taken": best is new,
                # The plan not taken, whole, for how sure it would be.
                "question": worse.asked.question,
                "answer": worse.answer,
            }
    answer = _without_idle(best.asked, best.answer)
    question = best.asked.question
    return {
        "question": question,
        "answer": answer,
        "beside": told_beside(facts, best.asked, best.sessions)
        | {"instead": instead, "short": short_words(question, answer, besides)}
        | ({} if late else {"prices": prices(question, answer)}),
    }


@dataclass(frozen=True)
class _Candidate:
    sessions: Sequence[Session]
    asked: Asked
    answer: Data

    @property
    def rank(self) -> tuple[int, int, int]:
        return rank(self.asked.question, self.answer)


def _others(
    facts: Facts, best: _Candidate, teardowns: Sequence[Teardown], late: bool
) -> Iterator[tuple[list[Session], Data]]:
    """The teardowns ordered for the ways that the plan takes, where they differ.

    And as they would be without waiting for the last part that they wait for.
    """
    pairs = list(zip(best.sessions, teardowns, strict=True))
    again = [_again(facts, s, t, best.answer, late) for s, t in pairs]
    if any(new is not None for new in again):
        yield [new or s for new, (s, _) in zip(again, pairs, strict=True)], {}
    for place, (session, teardown) in enumerate(pairs):
        last = _last_gate(facts, session, late)
        if last is None:
            continue
        line, task = last
        current = again[place] or session
        ways = current.ways | {task: PLAN_B}
        others = [new or s for new, (s, _) in zip(again, pairs, strict=True)]
        others[place] = _asked(facts, teardown, late, ways)
        yield others, {"line": line, "task": task, "build": session.build}


def _last_gate(facts: Facts, session: Session, late: bool) -> tuple[str, str] | None:
    """The line that comes last of those its tasks want, where a Plan B does without.

    Only one that is worth no fewer points: that is no giving up.
    """
    found = []
    for name in session.tasks:
        task = facts.task_by_id[name]
        if session.ways.get(name, FINAL) != FINAL:
            continue
        for want in wants(facts).get(name, ()):
            at = want.arrival and (
                want.arrival.late_at if late else want.arrival.likely_at
            )
            if at is not None:
                found.append((at, want.line, task))
    if not found:
        return None
    _, line, task = max(found, key=lambda one: (one[0], one[1]))
    first = next((way for way in task.fallbacks if not way.chosen), None)
    if task.wished or first is None or first.points < task.points:
        return None
    return line, task.id


def _taken_before(facts: Facts, like: Mapping[str, str]) -> dict[str, str]:
    """The Plan Bs that the plan before took for work of a teardown, if still open."""
    found = {}
    for name, way in like.items():
        task = facts.task_by_id.get(name)
        if task is None or task.is_finished or not task.in_teardown or task.wished:
            continue
        free = not any(one.chosen for one in task.fallbacks)
        if way.startswith(PLAN_B) and free and task.fallbacks:
            found[name] = way
    return found


def _ordered(
    facts: Facts, teardown: Teardown, late: bool, ways: Mapping[str, str]
) -> Session:
    """The teardown in its order; what cannot be its final way goes by Plan B."""
    ways = dict(ways)
    for _ in range(_ROUNDS):
        session = _asked(facts, teardown, late, ways)
        more = {
            row["task"]: PLAN_B
            for row in session.answer.get("left_out", ())
            if row["task"] not in ways and _has_plan_b(facts, row["task"])
        }
        if not more:
            break
        ways |= more
    return session


def _has_plan_b(facts: Facts, name: str) -> bool:
    task = facts.task_by_id[name]
    return not task.wished and any(not way.chosen for way in task.fallbacks)


def _asked(
    facts: Facts, teardown: Teardown, late: bool, ways: Mapping[str, str]
) -> Session:
    then = with_ways(facts, ways)
    tasks = teardown.tasks
    if tasks is not None:
        tasks = tuple(
            name
            for name in tasks
            if name in then.task_by_id and not then.task_by_id[name].is_finished
        )
    batch = teardown_batch(
        then,
        teardown.build,
        tasks=tasks,
        dates="late" if late else "likely",
        wait_for=teardown.wait_for,  # type: ignore[arg-type]
        max_sessions=teardown.max_sessions,
        prefer=teardown.prefer,  # type: ignore[arg-type]
    )
    answer: Data = {"sessions": [], "left_out": []}
    if batch.tasks and batch.question["windows"]:
        question = batch.question | {"time_limit_s": _TEARDOWN_S}
        answer = teardown_like(question, teardown.known)
    return Session(teardown.build, batch.question, answer, dict(ways), teardown.edition)


def _again(
    facts: Facts, session: Session, teardown: Teardown, answer: Data, late: bool
) -> Session | None:
    """The teardown ordered for the ways that the plan takes; None where it was."""
    taken = {row["id"]: base_of(row["way"]) for row in answer["activities"]}
    ways = {
        name: taken[name]
        for name in session.tasks
        if name in taken and taken[name] != FINAL
    }
    if ways == session.ways:
        return None
    return _asked(facts, teardown, late, ways)


def _without_idle(asked: Asked, answer: Data) -> Data:
    """Leaves out what is done for nothing: no must, no points, nothing after it."""
    by_id = {one["id"]: one for one in asked.question["activities"]}
    rows = {row["id"]: row for row in answer["activities"]}
    while True:
        wanted: set[str] = set()
        for name, row in rows.items():
            way = next(w for w in by_id[name]["ways"] if w["id"] == row["way"])
            links = [*by_id[name].get("after", ()), *way.get("after", ())]
            wanted |= {link["id"] for link in links}
        idle = [
            name
            for name in rows
            if name not in wanted
            and not by_id[name].get("required", True)
            and not any(way.get("points") for way in by_id[name]["ways"])
        ]
        if not idle:
            break
        for name in idle:
            del rows[name]
    gone = [row for row in answer["activities"] if row["id"] not in rows]
    return answer | {
        "activities": [row for row in answer["activities"] if row["id"] in rows],
        "left_out": [
            *answer["left_out"],
            *({"activity": row["id"], "why": "leads to nothing"} for row in gone),
        ],
    }
