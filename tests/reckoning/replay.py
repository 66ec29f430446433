"""Carries out an answer step by step on a model of the machine and the clock.

Written from the format alone, with none of the planner: it reads the question and
the answer as they are sent, and raises AssertionError at the first thing amiss.
"""

from __future__ import annotations

from typing import Any

from tests.reckoning.exhaustive import Bench, clock


def replay(question: dict[str, Any], answer: dict[str, Any]) -> None:
    """The whole answer is true of the question."""
    machine = Machine(question)
    for number, session in enumerate(answer["sessions"]):
        machine.session(session, is_last=number + 1 == len(answer["sessions"]))
    _totals(question, answer, machine)
    for number in range(len(answer["sessions"])):
        _latest_start(question, answer, number)


class Machine:
    """What is on and off, what is done and cured, and where the clock stands."""

    def __init__(self, question: dict[str, Any]) -> None:
        self.question = question
        self.bench = Bench(question)
        self.places = {place["id"]: place for place in question["components"]}
        self.tasks = {task["id"]: task for task in question["tasks"]}
        self.off = {
            name
            for name, place in self.places.items()
            if place.get("state", "fitted") != "fitted"
        }
        self.lies_off = {
            name for name, place in self.places.items() if place.get("state") == "off"
        }
        self.bonded: set[str] = set()
        self.cured: dict[str, int] = {}
        self.now = -(10**9)
        self.handling = 0

    def worked(self, start: int, finish: int) -> int:
        """Minutes at the bench between two moments."""
        return sum(start <= minute < finish for minute in self.bench.minutes)

    def is_open(self, name: str, off: set[str]) -> bool:
        routes = self.places[name].get("routes", [[]])
        return not routes or any(set(route) <= off for route in routes)

    def session(self, session: dict[str, Any], *, is_last: bool) -> None:
        start, finish = clock(session["start"]), clock(session["finish"])
        setup = self.question.get("setup_minutes", 0)
        mine = [s["id"] for s in session["steps"] if s["do"] == "task"]
        assert mine, "a session holds a task"
        assert start >= self.now, "sessions do not overlap"
        if self.question.get("wait_for", "all") == "all":
            for name in mine:
                assert start >= clock(self.tasks[name].get("ready", "2000-01-01T00:00"))
        assert self.is_at_the_bench(start)
        self.now, self.since_start, self.pending = start, setup, list(mine)
        self.session_start = start
        self.taken_off: set[str] = set()
        self.touched: set[str] = set()
        self.closed_begun = False
        self.is_last = is_last
        for step in session["steps"]:
            self.step(step)
        assert self.now == finish
        assert not self.taken_off, "what came off is back on"
        if is_last:
            assert not self.lies_off, "what lay off is back on"
        handled = setup + sum(
            s["minutes"] for s in session["steps"] if s["do"] != "task"
        )
        work = sum(s["minutes"] for s in session["steps"] if s["do"] == "task")
        assert session["handling_minutes"] == handled
        assert session["work_minutes"] == work
        span = self.worked(start, finish)
        assert session["waiting_minutes"] == span - handled - work
        self.handling += handled

    def is_at_the_bench(self, moment: int) -> bool:
        return moment in self.bench.minutes or moment - 1 in self.bench.minutes

    def step(self, step: dict[str, Any]) -> None:
        start, finish = clock(step["start"]), clock(step["finish"])
        assert start >= self.now, "one step after another"
        assert self.worked(self.session_start, start) >= self.since_start, "set-up"
        assert self.is_at_the_bench(start)
        assert self.is_at_the_bench(finish)
        assert finish <= self.bench.deadline
        assert self.worked(start, finish) == step["minutes"]
        if step["minutes"]:
            assert start in self.bench.minutes, "a start is where work begins"
            assert finish - 1 in self.bench.minutes, "an end is where work ends"
        else:
            assert start == finish
        {"remove": self.remove, "refit": self.refit, "task": self.task}[step["do"]](
            step, start, finish
        )
        self.now = finish

    def remove(self, step: dict[str, Any], start: int, finish: int) -> None:
        name = step["id"]
        assert step["minutes"] == self.places[name]["off"]
        assert name not in self.off | self.touched | self.bonded
        assert not self.closed_begun
        assert self.is_open(name, self.off)
        self.off.add(name)
        self.taken_off.add(name)
        self.touched.add(name)

    def refit(self, step: dict[str, Any], start: int, finish: int) -> None:
        name = step["id"]
        assert step["minutes"] == self.places[name]["on"]
        assert name in self.taken_off or (self.is_last and name in self.lies_off)
        assert not self.closed_begun
        assert self.is_open(name, self.off)
        self.goes_on({name}, start, by="")

    def goes_on(self, names: set[str], start: int, by: str) -> None:
        for other, task in self.tasks.items():
            if other != by and names & set(task.get("keeps_open", ())):
                assert other not in self.pending, f"{other} keeps it open"
                assert start >= self.cured.get(other, start), f"{other} has to cure"
        self.off -= names
        self.taken_off -= names
        self.lies_off -= names
        self.touched |= names

    def task(self, step: dict[str, Any], start: int, finish: int) -> None:
        task = self.tasks[step["id"]]
        fits = set(task.get("fits", ()))
        assert step["minutes"] == task["minutes"]
        assert step["id"] in self.pending
        self.pending.remove(step["id"])
        for before in task.get("after", ()):
            assert start >= self.cured[before]
        assert start >= clock(task.get("ready", "2000-01-01T00:00"))
        if task.get("unbroken"):
            assert finish - start == task["minutes"]
            inside = range(start, finish)
            windows = {
                self.bench.window_of[self.bench.minutes.index(m)] for m in inside
            }
            assert len(windows) == 1
        assert fits <= self.off
        assert all(self.is_open(name, self.off) for name in fits)
        assert not (fits and self.closed_begun)
        open_while_done = self.off - fits
        assert set(task.get("remove", ())) <= open_while_done
        assert all(self.is_open(n, open_while_done) for n in task.get("reach", ()))
        if task.get("closed"):
            assert self.taken_off <= fits
            assert not self.is_last or self.lies_off <= fits
            assert not any(self.tasks[other].get("fits") for other in self.pending)
            self.closed_begun = True
        if fits:
            self.goes_on(fits, start, by=step["id"])
        if task.get("for_good"):
            self.bonded |= fits
        cured = finish + task.get("cure", 0)
        assert cured <= self.bench.deadline
        if task.get("cure"):
            assert clock(step["cured"]) == cured
        self.cured[step["id"]] = cured


def _totals(question: dict[str, Any], answer: dict[str, Any], machine: Machine) -> None:
    done = [machine.tasks[name] for name in machine.cured]
    totals = answer["totals"]
    assert totals == {
        "required": sum(task.get("required", True) for task in done),
        "points": sum(task.get("points", 0) for task in done),
        "others": sum(not task.get("required", True) for task in done),
        "handling_minutes": machine.handling,
    }
    left = {line["task"] for line in answer["left_out"]}
    assert left == set(machine.tasks) - set(machine.cured)
    assert all(line["why"] for line in answer["left_out"])
    most = question.get("max_sessions", 1)
    assert [line["sessions"] for line in answer["choices"]] == list(range(1, most + 1))
    last = answer["choices"][-1]
    assert {name: last[name] for name in totals} == totals
    assert len(answer["sessions"]) <= most
    if answer["sessions"]:
        first = answer["sessions"][0]
        assert last["finish"] == answer["sessions"][-1]["finish"]
        hand = machine.worked(clock(first["start"]), clock(first["latest_start"]))
        assert last["in_hand_minutes"] == hand


def _latest_start(
    question: dict[str, Any], answer: dict[str, Any], number: int
) -> None:
    """The steps can start that late, and not one worked minute later."""
    bench = Bench(question)
    session = answer["sessions"][number]
    latest = bench.minutes.index(clock(session["latest_start"]))
    assert works_from(question, answer, number, latest)
    assert not works_from(question, answer, number, latest + 1)
    any_order = bench.minutes.index(clock(session["latest_start_any_order"]))
    assert any_order >= latest


def works_from(
    question: dict[str, Any], answer: dict[str, Any], number: int, begin: int
) -> bool:
    """Whether the same steps, from this session on, work out when begun that late."""
    bench = Bench(question)
    tasks = {task["id"]: task for task in question["tasks"]}
    cured: dict[str, int] = {}
    now = begin
    for index, session in enumerate(answer["sessions"]):
        if index < number:
            for step in session["steps"]:
                if step["do"] == "task":
                    cured[step["id"]] = clock(step.get("cured", step["finish"]))
            continue
        names = [s["id"] for s in session["steps"] if s["do"] == "task"]
        if question.get("wait_for", "all") == "all":
            now = max([now, *(_ready(bench, tasks[name]) for name in names)])
        now += question.get("setup_minutes", 0)
        for step in session["steps"]:
            task = tasks[step["id"]] if step["do"] == "task" else {}
            closes = set(task.get("fits", ()))
            if step["do"] == "refit":
                closes = {step["id"]}
            waits = [cured[before] for before in task.get("after", ())]
            waits += [
                moment
                for name, moment in cured.items()
                if set(tasks[name].get("keeps_open", ())) & closes
            ]
            now = max([now, *(bench.first_from(moment) for moment in waits)])
            if task:
                now = max(now, _ready(bench, task))
                if task.get("unbroken"):
                    now = bench.unbroken_from(now, step["minutes"])
            now += step["minutes"]
            if now > bench.length:
                return False
            if task:
                cured[step["id"]] = bench.over_at(now) + task.get("cure", 0)
                if cured[step["id"]] > bench.deadline:
                    return False
    return True


def _ready(bench: Bench, task: dict[str, Any]) -> int:
    return bench.first_from(clock(task["ready"])) if "ready" in task else 0
