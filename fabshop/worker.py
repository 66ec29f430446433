"""The only door to the heavy libraries: they run in processes of their own.

`run` hands a call to such a process and kills it when it overruns its limit. At most
two run at once; one stays warm for the next call, and ends after a few quiet minutes.
The web process itself never loads the solver, the PDF maker or the reader of drawings.
Files that strangers made are read by `run_small`, whose process gets little memory.
"""

from __future__ import annotations

import os
import pickle
import struct
import subprocess
import sys
import threading
import traceback
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from importlib import import_module
from pathlib import Path
from typing import IO, Any

from fabshop.errors import ShopError, TookTooLong, TooLarge

try:
    import resource
except ImportError:  # on systems without it the time limit stands alone
    resource = None  # type: ignore[assignment]

# Loading the libraries on a slow machine; not part of a caller's limit.
START_S = 60.0

_HOME = Path(__file__).resolve().parent.parent
_LENGTH = struct.Struct(">Q")
_CHILD = "from fabshop.worker import answer_calls; answer_calls({most_mb})"


class WorkerEnded(ShopError):
    """The process ended by itself in the middle of a call."""

    code = "worker-ended"
    status = 503


class Workers:
    """Processes that run the few functions named in `may_run`, and nothing else."""

    def __init__(
        self,
        may_run: frozenset[tuple[str, str]],
        at_once: int,
        warm_s: float,
        most_mb: int | None = None,
    ) -> None:
        self.may_run = may_run
        self.warm_s = warm_s
        self.most_mb = most_mb
        self._places = threading.BoundedSemaphore(at_once)
        self._lock = threading.Lock()
        self._warm: _Process | None = None

    def run(
        self, module: str, function: str, *args: Any, limit_s: float, **kwargs: Any
    ) -> Any:
        """Call `module.function` elsewhere and return what it returns.

        Refusals (ShopError) travel back as themselves. TookTooLong when no process
        is free for `limit_s` seconds, or the call itself takes longer than that;
        WorkerEnded when its process died; RuntimeError with the other process's
        traceback for a fault of ours. Arguments and answers are plain data.
        """
        if (module, function) not in self.may_run:
            raise ValueError(f"the worker does not run {module}.{function}")
        if not self._places.acquire(timeout=limit_s):
            raise TookTooLong(
                "Others are being reckoned for just now. Try again in a minute."
            )
        try:
            process = self._started((module, function, args, kwargs))
            kind, answer = process.answer(limit_s)
            self._keep(process)
        finally:
            self._places.release()
        if kind == "refused":
            raise answer
        if kind == "fault":
            raise RuntimeError(answer)
        return answer

    def end_warm(self, process: _Process | None = None) -> None:
        """End the warm process; given one, only if it is still that one."""
        with self._lock:
            warm = self._warm
            if warm is None or process not in (None, warm):
                return
            self._warm = None
        warm.end()

    def _started(self, call: tuple[Any, ...]) -> _Process:
        """A process that has taken the call and loaded what it needs."""
        with self._lock:
            warm, self._warm = self._warm, None
        if warm is not None:
            try:
                warm.take(call)
                return warm
            except (OSError, WorkerEnded):
                pass  # it died while it had nothing to do
        new = _Process(self.most_mb)
        new.take(call)
        return new

    def _keep(self, process: _Process) -> None:
        with self._lock:
            other, self._warm = self._warm, process
        if other is not None:
            other.end()
        quiet = threading.Timer(self.warm_s, self.end_warm, [process])
        quiet.daemon = True
        quiet.start()


class _Process:
    """One Python of its own that answers one call after another."""

    def __init__(self, most_mb: int | None = None) -> None:
        self._popen = subprocess.Popen(
            [sys.executable, "-c", _CHILD.format(most_mb=most_mb)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            cwd=_HOME,
            # Ctrl-C is for the server; this one ends when the server does.
            start_new_session=True,
        )
        assert self._popen.stdin is not None
        assert self._popen.stdout is not None
        self._calls, self._answers = self._popen.stdin, self._popen.stdout

    def take(self, call: tuple[Any, ...]) -> None:
        with self._killed_after(START_S):
            _send(self._calls, call)
            _received(self._answers)

    def answer(self, limit_s: float) -> tuple[str, Any]:
        with self._killed_after(limit_s):
            kind, answer = _received(self._answers)
        return str(kind), answer

    def end(self) -> None:
        self._popen.kill()
        self._popen.wait()
        for pipe in (self._calls, self._answers):
            with suppress(OSError):  # a call that was never read
                pipe.close()

    @contextmanager
    def _killed_after(self, limit_s: float) -> Iterator[None]:
        overran = threading.Event()

        def overrun() -> None:
            overran.set()
            self._popen.kill()

        timer = threading.Timer(limit_s, overrun)
        timer.daemon = True
        timer.start()
        try:
            yield
        except BaseException as fault:
            timer.cancel()
            self.end()
            if overran.is_set():
                raise TookTooLong(
                    f"This took longer than its limit of {limit_s:g} seconds. "
                    "Ask for less, or try again when the shop is quiet."
                ) from None
            if isinstance(fault, EOFError):
                raise WorkerEnded(
                    "The process that works this out ended by itself (status "
                    f"{self._popen.returncode}). Try again; if it happens again, "
                    "look at what the server printed."
                ) from None
            raise
        finally:
            timer.cancel()


def _send(pipe: IO[bytes], thing: Any) -> None:
    data = pickle.dumps(thing)
    pipe.write(_LENGTH.pack(len(data)) + data)
    pipe.flush()


def _received(pipe: IO[bytes]) -> Any:
    head = pipe.read(_LENGTH.size)
    if len(head) < _LENGTH.size:
        raise EOFError
    (length,) = _LENGTH.unpack(head)
    data = pipe.read(length)
    if len(data) < length:
        raise EOFError
    return pickle.loads(data)


def answer_calls(most_mb: int | None = None) -> None:
    """The other end: answer calls from standard input until it closes.

    With `most_mb` a call that wants more memory of its own is refused as too large.
    """
    if most_mb is not None and resource is not None:
        most = most_mb * 1024 * 1024
        resource.setrlimit(resource.RLIMIT_DATA, (most, most))
    calls = sys.stdin.buffer
    # Whatever a library prints goes to standard error, not between the answers.
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    while True:
        try:
            module, function, args, kwargs = _received(calls)
        except EOFError:
            return
        try:
            called = getattr(import_module(module), function)
            _send(answers, "ready")
        except Exception:
            _send(answers, "ready")
            _send(answers, ("fault", traceback.format_exc()))
            continue
        try:
            _send(answers, ("answer", called(*args, **kwargs)))
        except ShopError as refusal:
            _send(answers, ("refused", refusal))
        except MemoryError:
            _send(answers, ("refused", TooLarge("This wants more memory than it may.")))
        except Exception:
            _send(answers, ("fault", traceback.format_exc()))


_workers = Workers(
    frozenset(
        {
            ("fabshop.reckoning.ask", "reckon"),
            ("fabshop.reckoning.ask", "schedule_like"),
            ("fabshop.reckoning.ask", "teardown_like"),
            ("fabshop.reckoning.rough", "shop_plan"),
            ("fabshop.reckoning.sure", "sure"),
            ("fabshop.paper.render", "pdf"),
            ("fabshop.paper.apron", "pdf"),
        }
    ),
    at_once=2,
    warm_s=300.0,
)
run = _workers.run

_small = Workers(
    frozenset(
        {
            ("fabshop.reckoning.drawing.read", "read"),
            ("fabshop.reckoning.drawing.read", "lines_of"),
        }
    ),
    at_once=1,
    warm_s=60.0,
    # Of data, stacks that are never touched among them: under 300 MB in earnest.
    most_mb=340,
)
run_small = _small.run
