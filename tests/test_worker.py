"""The worker answers, refuses, overruns and comes back, as its callers see it."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from fabshop import worker
from fabshop.errors import BadInput, BadQuestion, Clash, TookTooLong, TooLarge
from fabshop.worker import WorkerEnded, Workers

HOME = Path(__file__).resolve().parent.parent
COPE = {"branch": {"od": 6, "wall": 0.9}, "main": {"od": 8}, "angle": 60}
CHORES = ("process", "sleep", "refuse", "fail", "unsendable", "chatter", "end", "gone")


def chores(
    at_once: int = 2, warm_s: float = 60.0, most_mb: int | None = None
) -> Workers:
    allowed = frozenset(("tests.chores", chore) for chore in CHORES)
    return Workers(allowed | {("tests.no_such", "end")}, at_once, warm_s, most_mb)


@pytest.fixture
def bench() -> Iterator[Workers]:
    bench = chores()
    yield bench
    bench.end_warm()


def do(bench: Workers, chore: str, *args: Any, limit_s: float = 30.0) -> Any:
    return bench.run("tests.chores", chore, *args, limit_s=limit_s)


def is_there(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


def test_a_question_is_answered_and_a_bad_one_refused_as_itself() -> None:
    def ask(question: Any) -> Any:
        return worker.run(
            "fabshop.reckoning.ask", "reckon", "cope", question, limit_s=30
        )

    assert ask(COPE)["dial"] == 30.0
    with pytest.raises(BadQuestion) as refusal:
        ask({**COPE, "angle": 0})
    assert refusal.value.field == "angle"
    assert refusal.value.status == 400


def test_a_refusal_travels_whole(bench: Workers) -> None:
    with pytest.raises(Clash) as refusal:
        do(bench, "refuse", "The bench is taken.")
    told = refusal.value
    assert (told.message, told.field, told.code, told.status) == (
        "The bench is taken.",
        "bench",
        "bench-taken",
        409,
    )


def test_only_what_is_allowed_is_run(bench: Workers) -> None:
    for run in (worker.run, bench.run):
        with pytest.raises(ValueError, match=r"the worker does not run os\.system"):
            run("os", "system", "true", limit_s=1)


def test_one_process_stays_warm_for_the_next_call(bench: Workers) -> None:
    first = do(bench, "process")
    assert first != os.getpid()
    assert do(bench, "process") == first


def test_an_overrun_is_killed_and_the_next_call_is_answered(bench: Workers) -> None:
    process = do(bench, "process")
    began = time.monotonic()
    with pytest.raises(TookTooLong, match=r"longer than its limit of 0\.2 seconds"):
        do(bench, "sleep", 20, limit_s=0.2)
    assert time.monotonic() - began < 5
    assert not is_there(process)
    assert do(bench, "sleep", 0) == "rested"


def test_a_process_that_died_while_idle_is_replaced(bench: Workers) -> None:
    first = do(bench, "process")
    os.kill(first, 9)
    assert do(bench, "process") != first


def test_a_process_that_ends_in_a_call_is_told_as_such(bench: Workers) -> None:
    with pytest.raises(WorkerEnded, match=r"ended by itself \(status 7\)") as told:
        do(bench, "end", 7)
    assert told.value.status == 503
    assert do(bench, "sleep", 0) == "rested"


def test_a_fault_of_ours_comes_with_its_traceback(bench: Workers) -> None:
    with pytest.raises(RuntimeError, match="ZeroDivisionError"):
        do(bench, "fail")
    with pytest.raises(RuntimeError, match="pickle"):
        do(bench, "unsendable")
    with pytest.raises(RuntimeError, match="AttributeError.*gone"):
        do(bench, "gone")
    with pytest.raises(RuntimeError, match="ModuleNotFoundError"):
        bench.run("tests.no_such", "end", limit_s=30)
    assert do(bench, "sleep", 0) == "rested"


def test_what_a_library_prints_does_not_spoil_a_large_answer(bench: Workers) -> None:
    assert do(bench, "chatter", 3_000_000) == b"x" * 3_000_000


def test_a_call_that_wants_more_memory_than_it_may_is_refused_and_the_next_is_not() -> (
    None
):
    bench = chores(most_mb=100)
    try:
        with pytest.raises(TooLarge, match="more memory than it may"):
            do(bench, "chatter", 200_000_000)
        assert len(do(bench, "chatter", 1000)) == 1000
    finally:
        bench.end_warm()


def test_what_a_stranger_made_is_read_in_a_process_of_little_memory() -> None:
    assert worker._small.most_mb is not None
    with pytest.raises(ValueError, match="does not run"):
        worker.run_small("fabshop.reckoning.ask", "reckon", limit_s=1.0)
    with pytest.raises(BadInput, match="does not begin as a DXF does"):
        worker.run_small(
            "fabshop.reckoning.drawing.read", "read", b"%PDF", limit_s=30.0
        )


def test_many_threads_are_answered_by_two_processes_and_one_stays() -> None:
    bench = chores()
    processes: list[int] = []

    def call() -> None:
        do(bench, "sleep", 0.05)
        processes.append(do(bench, "process"))

    callers = [threading.Thread(target=call) for _ in range(8)]
    for caller in callers:
        caller.start()
    for caller in callers:
        caller.join()
    assert len(processes) == 8
    assert sum(is_there(process) for process in set(processes)) <= 1
    bench.end_warm()


def test_who_finds_every_place_taken_is_asked_to_come_again() -> None:
    bench = chores(at_once=1)
    busy = threading.Thread(target=do, args=(bench, "sleep", 3))
    busy.start()
    time.sleep(0.2)
    with pytest.raises(TookTooLong, match="Others are being reckoned for"):
        do(bench, "process", limit_s=0.2)
    busy.join()
    bench.end_warm()


def test_a_process_without_work_ends_by_itself() -> None:
    bench = chores(warm_s=0.2)
    process = do(bench, "process")
    until = time.monotonic() + 10
    while is_there(process) and time.monotonic() < until:
        time.sleep(0.05)
    assert not is_there(process)


def test_the_caller_loads_no_solver_and_leaves_no_process() -> None:
    program = (
        "import sys\n"
        "from fabshop import worker\n"
        f"worker.run('fabshop.reckoning.ask', 'reckon', 'cope', {COPE!r}, limit_s=30)\n"
        "print('ortools' in sys.modules, worker._workers._warm._popen.pid)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=HOME, capture_output=True, text=True
    )
    loaded, process = done.stdout.split()
    assert loaded == "False", done.stderr
    until = time.monotonic() + 10
    while is_there(int(process)) and time.monotonic() < until:
        time.sleep(0.05)
    assert not is_there(int(process))
