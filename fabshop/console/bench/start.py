"""How quickly the shop starts and what it weighs at rest: rows for the bench."""

from __future__ import annotations

import os
import re
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

HOME = Path(__file__).resolve().parents[3]
PATIENCE_S = 120.0


def rows() -> Iterator[str]:
    """First and second start to the first answer, and resident memory after it."""
    with tempfile.TemporaryDirectory() as folder:
        for turn in ("first", "second"):
            seconds, memory_kb = _start(folder)
            yield (
                f"{f'serve --demo, {turn} start':<34} {seconds:7.2f} s to the first "
                f"answer, {memory_kb / 1024:.0f} MB at rest"
            )


def _start(folder: str) -> tuple[float, int]:
    port = free_port()
    began = time.monotonic()
    server = subprocess.Popen(
        [
            *(sys.executable, str(HOME / "manage.py"), "serve", "--demo"),
            *("--host", "127.0.0.1", "--port", str(port)),
        ],
        cwd=HOME,
        env={**os.environ, "FABSHOP_DATA": folder},
        stdout=subprocess.DEVNULL,
    )
    try:
        while True:
            try:
                address = f"http://127.0.0.1:{port}/sign-in/"
                with urllib.request.urlopen(address, timeout=5) as answer:
                    answer.read()
                break
            except OSError:
                if time.monotonic() - began > PATIENCE_S or server.poll() is not None:
                    raise
                time.sleep(0.02)
        return time.monotonic() - began, _resident_kb(server.pid)
    finally:
        server.terminate()
        server.wait()


def _resident_kb(pid: int) -> int:
    """Resident memory as Linux tells it; 0 on systems that do not."""
    try:
        told = Path(f"/proc/{pid}/status").read_text()
    except OSError:
        return 0
    found = re.search(r"VmRSS:\s+(\d+)", told)
    return int(found[1]) if found else 0


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
