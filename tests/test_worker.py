"""The worker answers, refuses, overruns and comes back, as its callers see it."""

from __future__ import annotations

import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import Any

import pytest

from fabshop import worker
from fabshop.errors import BadQuestion, TookTooLong

HOME = Path(__file__).resolve().parent.parent
COPE = {"branch": {"od": 6, "wall": 0.9}, "main": {"od": 8}, "angle": 60}


def ask(kind: str, question: Any, limit_s: float = 30.0) -> Any:
    return worker.run(
        "fabshop.reckoning.ask", "reckon", kind, question, limit_s=limit_s
    )


def test_an_answer_comes_back() -> None:
    assert ask("cope", COPE)["dial"] == 30.0


def test_a_refusal_comes_back_as_itself() -> None:
    with pytest.raises(BadQuestion) as refusal:
        ask("cope", {**COPE, "angle": 0})
    assert refusal.value.field == "angle"
    assert refusal.value.status == 400


def test_only_what_is_allowed_is_run() -> None:
    with pytest.raises(ValueError, match="does not run os.system"):
        worker.run("os", "system", "true", limit_s=1)


def test_an_overrun_is_ended_and_the_next_call_is_answered() -> None:
    for process in worker._idle:
        process.kill()  # a new one needs longer to start than the limit allows
        process.wait()
    began = time.monotonic()
    with pytest.raises(TookTooLong, match=r"limit of 0\.05 seconds"):
        ask("cope", COPE, limit_s=0.05)
    assert time.monotonic() - began < 5
    assert ask("cope", COPE)["dial"] == 30.0


def test_a_process_that_died_between_calls_is_replaced() -> None:
    ask("cope", COPE)
    for process in worker._idle:
        process.kill()
        process.wait()
    assert ask("cope", COPE)["dial"] == 30.0


def test_more_callers_than_places_are_all_answered() -> None:
    answers: list[float] = []

    def call() -> None:
        answers.append(ask("cope", COPE)["dial"])

    callers = [threading.Thread(target=call) for _ in range(worker.AT_ONCE * 3)]
    for caller in callers:
        caller.start()
    for caller in callers:
        caller.join()
    assert answers == [30.0] * len(callers)
    assert len(worker._idle) <= worker.AT_ONCE


def test_the_caller_does_not_load_the_solver() -> None:
    program = (
        "import sys\n"
        "from fabshop import worker\n"
        f"worker.run('fabshop.reckoning.ask', 'reckon', 'cope', {COPE!r}, limit_s=30)\n"
        "print('ortools' in sys.modules)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=HOME, capture_output=True, text=True
    )
    assert done.stdout.strip() == "False", done.stderr
