"""A slow, plain search through every order of a small teardown question.

It knows the machine only from the written question (the JSON), walks every sequence
of steps, and shares no line with the planner. Each sequence is timed as early as it
can be, from one or more first moments at once: an order can wait until minute b when
it still works out with its first session begun at b.
"""

from __future__ import annotations

from datetime import datetime
from functools import cache
from itertools import combinations
from typing import Any, NamedTuple

NEVER = 10**9
MOST_STATES = 6_000


class TooMany(Exception):
    """More states than a test has time for; another case is taken instead."""


def clock(moment: str) -> int:
    """Minutes since a fixed day."""
    return (
        int((datetime.fromisoformat(moment) - datetime(2000, 1, 1)).total_seconds())
        // 60
    )


class Bench:
    """The worked minutes one by one: `minutes[i]` is when the i-th begins."""

    def __init__(self, question: dict[str, Any]) -> None:
        self.deadline = clock(question["deadline"])
        self.minutes: list[int] = []
        self.window_of: list[int] = []
        for number, (start, end) in enumerate(question["windows"]):
            for minute in range(clock(start), min(clock(end), self.deadline)):
                self.minutes.append(minute)
                self.window_of.append(number)

    @property
    def length(self) -> int:
        return len(self.minutes)

    def over_at(self, position: int) -> int:
        """The clock when work that ends at `position` is over."""
        return self.minutes[position - 1] + 1

    @cache  # noqa: B019
    def first_from(self, moment: int) -> int:
        """The first position that can be at `moment` or later."""
        for position in range(self.length + 1):
            ends = self.over_at(position) if position else -NEVER
            begins = self.minutes[position] if position < self.length else -NEVER
            if max(ends, begins) >= moment:
                return position
        return NEVER

    def unbroken_from(self, position: int, minutes: int) -> int:
        """The first position from here where so many minutes lie in one window."""
        while position + minutes <= self.length:
            if self.window_of[position] == self.window_of[position + minutes - 1]:
                return position
            position += 1
        return NEVER


class State(NamedTuple):
    """All that matters for what may follow."""

    session: int
    last: bool
    picked: frozenset[str]
    done: frozenset[str]
    off: frozenset[str]
    """Off or absent now."""
    taken_off: frozenset[str]
    """Removed in this session and not on again."""
    touched: frozenset[str]
    """Removed or put on in this session."""
    waiting_off: frozenset[str]
    """Off at first and never put on yet."""
    bonded: frozenset[str]
    shut: bool
    """A closed task of this session has begun."""
    now: tuple[int, ...]
    cured: tuple[tuple[str, tuple[int, ...]], ...]


class Search:
    """The best of (required, points, others, -handling, -finish) over every order."""

    def __init__(
        self, question: dict[str, Any], sessions: int, begins: tuple[int, ...] = (0,)
    ) -> None:
        self.question = question
        self.sessions = sessions
        self.begins = begins
        self.bench = Bench(question)
        self.setup = question.get("setup_minutes", 0)
        self.places = {place["id"]: place for place in question["components"]}
        self.tasks = {task["id"]: task for task in question["tasks"]}
        self.best: tuple[int, ...] = ()
        self.seen: dict[State, int] = {}

    def run(self) -> tuple[int, ...]:
        off = frozenset(i for i, p in self.places.items() if _state(p) != "fitted")
        waiting = frozenset(i for i, p in self.places.items() if _state(p) == "off")
        self.best = (0, 0, 0, 0, 0)
        start = State(
            0, False, frozenset(), frozenset(), off, frozenset(), frozenset(), waiting,
            frozenset(), False, self.begins, (),
        )  # fmt: skip
        self._between(start, 0)
        return self.best

    def _ready(self, task: str) -> int:
        ready = self.tasks[task].get("ready")
        return self.bench.first_from(clock(ready)) if ready else 0

    def _between(self, state: State, handling: int) -> None:
        """Between two sessions: stop here, or pick the tasks of the next."""
        if state.last or not state.done:
            score = self._score(state, handling)
            self.best = max(self.best, score)
        if state.session == self.sessions or state.last:
            return
        left = [task for task in self.tasks if task not in state.done]
        for count in range(1, len(left) + 1):
            for picked in combinations(left, count):
                for last in (True, False):
                    self._open(state, frozenset(picked), last, handling)

    def _score(self, state: State, handling: int) -> tuple[int, ...]:
        done = [self.tasks[task] for task in state.done]
        finish = state.now[0] if state.done else 0
        return (
            sum(task.get("required", True) for task in done),
            sum(task.get("points", 0) for task in done),
            sum(not task.get("required", True) for task in done),
            -handling,
            -finish,
        )

    def _open(
        self, state: State, picked: frozenset[str], last: bool, handling: int
    ) -> None:
        begin = state.now
        if self.question.get("wait_for", "all") == "all":
            ready = max(self._ready(task) for task in picked)
            begin = tuple(max(now, ready) for now in begin)
        now = tuple(at + self.setup for at in begin)
        if max(now) > self.bench.length:
            return
        self._walk(
            state._replace(
                session=state.session + 1, last=last, picked=picked, now=now,
                taken_off=frozenset(), touched=frozenset(), shut=False,
            ),
            handling + self.setup,
        )  # fmt: skip

    def _walk(self, state: State, handling: int) -> None:
        if self.seen.get(state, NEVER) <= handling:
            return
        if len(self.seen) > MOST_STATES:
            raise TooMany
        self.seen[state] = handling
        finished = state.picked <= state.done and not state.taken_off
        if finished and not (state.last and state.waiting_off):
            self._between(state, handling)
        for place in self.places:
            self._try_remove(state, place, handling)
            self._try_refit(state, place, handling)
        for task in state.picked - state.done:
            self._try_task(state, task, handling)

    def _reachable(self, place: str, off: frozenset[str]) -> bool:
        routes = self.places[place].get("routes", [[]])
        return not routes or any(off.issuperset(route) for route in routes)

    def _try_remove(self, state: State, place: str, handling: int) -> None:
        if (
            place in state.off | state.touched | state.bonded
            or state.shut
            or not self._reachable(place, state.off)
        ):
            return
        now = tuple(at + self.places[place]["off"] for at in state.now)
        if max(now) <= self.bench.length:
            self._walk(
                state._replace(
                    off=state.off | {place}, taken_off=state.taken_off | {place},
                    touched=state.touched | {place}, now=now,
                ),
                handling + self.places[place]["off"],
            )  # fmt: skip

    def _try_refit(self, state: State, place: str, handling: int) -> None:
        may = place in state.taken_off or (state.last and place in state.waiting_off)
        if not may or state.shut or not self._reachable(place, state.off):
            return
        starts = self._held_open_until(state, (place,), "")
        if starts is None:
            return
        now = tuple(at + self.places[place]["on"] for at in starts)
        if max(now) <= self.bench.length:
            self._walk(
                self._put_on(state, (place,))._replace(now=now),
                handling + self.places[place]["on"],
            )

    def _put_on(self, state: State, places: tuple[str, ...]) -> State:
        return state._replace(
            off=state.off - set(places),
            taken_off=state.taken_off - set(places),
            touched=state.touched | set(places),
            waiting_off=state.waiting_off - set(places),
        )

    def _held_open_until(
        self, state: State, places: tuple[str, ...], by: str
    ) -> tuple[int, ...] | None:
        """When these may go on; None while a task that keeps them open is to come."""
        cured = dict(state.cured)
        starts = state.now
        for task in state.picked | state.done:
            if task != by and set(self.tasks[task].get("keeps_open", ())) & set(places):
                if task not in state.done:
                    return None
                starts = tuple(map(max, starts, cured[task]))
        return starts

    def _try_task(self, state: State, name: str, handling: int) -> None:
        task = self.tasks[name]
        fits = tuple(dict.fromkeys(task.get("fits", ())))
        while_done = state.off - set(fits)
        if (
            not set(task.get("after", ())) <= state.done
            or not state.off.issuperset(fits)
            or not while_done.issuperset(task.get("remove", ()))
            or not all(self._reachable(p, state.off) for p in fits)
            or not all(self._reachable(p, while_done) for p in task.get("reach", ()))
            or (fits and state.shut)
            or (task.get("closed") and not self._all_is_on(state, name))
        ):
            return
        starts = self._held_open_until(state, fits, name)
        if starts is None:
            return
        cured = dict(state.cured)
        for before in task.get("after", ()):
            starts = tuple(map(max, starts, cured[before]))
        starts = tuple(max(at, self._ready(name)) for at in starts)
        if task.get("unbroken"):
            starts = tuple(
                self.bench.unbroken_from(at, task["minutes"]) for at in starts
            )
        now = tuple(at + task["minutes"] for at in starts)
        cure = task.get("cure", 0)
        if max(now) > self.bench.length:
            return
        over = [self.bench.over_at(at) + cure for at in now]
        if max(over) > self.bench.deadline:
            return
        free = tuple(
            self.bench.first_from(moment) if cure else at
            for moment, at in zip(over, now, strict=True)
        )
        self._walk(
            self._put_on(state, fits)._replace(
                done=state.done | {name},
                bonded=state.bonded | (set(fits) if task.get("for_good") else set()),
                shut=state.shut or bool(task.get("closed")),
                now=now,
                cured=(*state.cured, (name, free)),
            ),
            handling,
        )

    def _all_is_on(self, state: State, name: str) -> bool:
        fits = set(self.tasks[name].get("fits", ()))
        still_to_fit = any(
            self.tasks[other].get("fits")
            for other in state.picked - state.done - {name}
        )
        waiting = state.waiting_off if state.last else frozenset()
        return not still_to_fit and (state.taken_off | waiting) <= fits


def _state(place: dict[str, Any]) -> str:
    return str(place.get("state", "fitted"))


def best_by_search(question: dict[str, Any], sessions: int) -> dict[str, int]:
    """What the best plan comes to, every aim of the question weighed in its order."""
    best = Search(question, sessions).run()
    found = dict(
        zip(("required", "points", "others", "handling", "finish"), best, strict=True)
    )
    found["handling"] *= -1
    found["finish"] *= -1
    if question.get("prefer") == "late_start" and any(best[:3]):
        low, high = 0, Bench(question).length
        while low < high:
            middle = (low + high + 1) // 2
            if Search(question, sessions, (middle,)).run()[:4] == best[:4]:
                low = middle
            else:
                high = middle - 1
        found["latest_start"] = low
        found["finish"] = -Search(question, sessions, (0, low)).run()[4]
    return found
