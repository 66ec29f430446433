"""The only door to the two heavy libraries: they run in processes of their own.

`run` hands a call to a warm process (two at most), waits no longer than its limit,
and kills the process that overran. The web process never loads the solver or the
PDF maker. A process that had nothing to do for a few minutes ends by itself.
"""

from __future__ import annotations

import os
import pickle
import select
import struct
import subprocess
import sys
import threading
import time
import traceback
from importlib import import_module
from pathlib import Path
from typing import IO, Any

from fabshop.errors import ShopError, TookTooLong

MAY_RUN = frozenset(
    {("fabshop.reckoning.ask", "reckon"), ("fabshop.paper.render", "pdf")}
)
AT_ONCE = 2
IDLE_S = 300.0

_HOME = Path(__file__).resolve().parent.parent
_LENGTH = struct.Struct(">Q")
_places = threading.BoundedSemaphore(AT_ONCE)
_lock = threading.Lock()
_idle: list[subprocess.Popen[bytes]] = []


def run(module: str, function: str, *args: Any, limit_s: float, **kwargs: Any) -> Any:
    """Call `module.function` elsewhere and return what it returns.

    Refusals (ShopError) travel back as themselves; TookTooLong after `limit_s`
    seconds, waiting for a free process included; RuntimeError with the other
    process's traceback for a fault of ours.
    """
    if (module, function) not in MAY_RUN:
        raise ValueError(f"the worker does not run {module}.{function}")
    until = time.monotonic() + limit_s
    if not _places.acquire(timeout=limit_s):
        raise _too_long(limit_s)
    try:
        return _answer_of((module, function, args, kwargs), until, limit_s)
    finally:
        _places.release()


def _answer_of(call: tuple[Any, ...], until: float, limit_s: float) -> Any:
    process = _idle_or_new()
    try:
        try:
            _send(process.stdin, call)
        except OSError:
            # It ended between two calls, having been idle for long: take a new one.
            process.kill()
            process = _new()
            _send(process.stdin, call)
        kind, answer = _received(process, until)
    except BaseException as fault:
        process.kill()
        process.wait()
        if isinstance(fault, TimeoutError):
            raise _too_long(limit_s) from None
        raise
    with _lock:
        _idle.append(process)
    if kind == "refused":
        raise answer
    if kind == "fault":
        raise RuntimeError(answer)
    return answer


def _idle_or_new() -> subprocess.Popen[bytes]:
    with _lock:
        while _idle:
            process = _idle.pop()
            if process.poll() is None:
                return process
    return _new()


def _new() -> subprocess.Popen[bytes]:
    path = os.pathsep.join([str(_HOME), *filter(None, [os.environ.get("PYTHONPATH")])])
    return subprocess.Popen(
        [sys.executable, "-m", "fabshop.worker"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": path},
        cwd=_HOME,
        bufsize=0,
    )


def _send(stream: IO[bytes] | None, thing: Any) -> None:
    assert stream is not None
    data = pickle.dumps(thing)
    view = memoryview(_LENGTH.pack(len(data)) + data)
    while view:
        view = view[stream.write(view) :]


def _received(process: subprocess.Popen[bytes], until: float) -> tuple[str, Any]:
    assert process.stdout is not None
    length = _LENGTH.unpack(_exactly(process.stdout.fileno(), _LENGTH.size, until))[0]
    kind, answer = pickle.loads(_exactly(process.stdout.fileno(), length, until))
    return str(kind), answer


def _exactly(handle: int, length: int, until: float) -> bytes:
    parts = []
    while length:
        left = until - time.monotonic()
        if left <= 0 or not select.select([handle], [], [], left)[0]:
            raise TimeoutError
        part = os.read(handle, min(length, 1 << 20))
        if not part:
            raise RuntimeError("the worker process ended in the middle of a call")
        parts.append(part)
        length -= len(part)
    return b"".join(parts)


def _too_long(limit_s: float) -> TookTooLong:
    return TookTooLong(
        f"This took longer than its limit of {limit_s:g} seconds. "
        "Ask for less, or try again when the shop is quiet."
    )


def _serve() -> None:
    """The other end: answer calls from standard input until it closes."""
    calls = sys.stdin.buffer.raw  # type: ignore[attr-defined]
    # Whatever a library prints goes to standard error, not between the answers.
    answers = os.fdopen(os.dup(1), "wb", buffering=0)
    os.dup2(2, 1)
    while select.select([calls], [], [], IDLE_S)[0]:
        head = calls.read(_LENGTH.size)
        if len(head) < _LENGTH.size:
            return
        data = b""
        while len(data) < _LENGTH.unpack(head)[0]:
            data += calls.read(_LENGTH.unpack(head)[0] - len(data))
        module, function, args, kwargs = pickle.loads(data)
        try:
            if (module, function) not in MAY_RUN:
                raise ValueError(f"the worker does not run {module}.{function}")
            answer = getattr(import_module(module), function)(*args, **kwargs)
            _send(answers, ("answer", answer))
        except ShopError as refusal:
            _send(answers, ("refused", refusal))
        except Exception:
            _send(answers, ("fault", traceback.format_exc()))


if __name__ == "__main__":
    _serve()
