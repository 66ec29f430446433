"""What the tests of the worker have it do: sleep, fail, print, end."""

from __future__ import annotations

import os
import sys
import time

from fabshop.errors import Clash


def process() -> int:
    return os.getpid()


def sleep(seconds: float) -> str:
    time.sleep(seconds)
    return "rested"


def refuse(sentence: str) -> None:
    raise Clash(sentence, field="bench", code="bench-taken")


def fail() -> float:
    return 1 / 0


def unsendable() -> object:
    return lambda: None


def chatter(size: int) -> bytes:
    print("a library talks")
    os.write(1, b"and another\n")
    return b"x" * size


def end(status: int) -> None:
    sys.stdout.flush()
    os._exit(status)
