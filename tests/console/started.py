"""A shop started as its owner starts it: a process of its own, on a port of its own."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

HOME = Path(__file__).resolve().parent.parent.parent
PATIENCE_S = 120.0


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def environ(data: Path, **more: str) -> dict[str, str]:
    ours = ("FABSHOP_", "DATABASE_URL", "DJANGO_SETTINGS_MODULE")
    plain = {k: v for k, v in os.environ.items() if not k.startswith(ours)}
    return {**plain, "FABSHOP_DATA": str(data), "PYTHONUNBUFFERED": "1", **more}


def manage(*argv: str, data: Path, **more: str) -> subprocess.CompletedProcess[str]:
    """Run one command to its end."""
    return subprocess.run(
        [sys.executable, "manage.py", *argv],
        cwd=HOME,
        env=environ(data, **more),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
    )


class Started:
    """`serve` in the background; `printed` is what its owner sees."""

    def __init__(self, *argv: str, data: Path, **more: str) -> None:
        self.port = free_port()
        self.here = f"http://127.0.0.1:{self.port}"
        self._paper = data.with_name(f"{data.name}-{self.port}.txt")
        self._began = time.monotonic()
        with self._paper.open("w") as paper:
            self.process = subprocess.Popen(
                [sys.executable, "manage.py", "serve", "--port", str(self.port), *argv],
                cwd=HOME,
                env=environ(data, **more),
                stdin=subprocess.DEVNULL,
                stdout=paper,
                stderr=paper,
            )

    def __enter__(self) -> Started:
        return self

    def __exit__(self, *_: object) -> None:
        self.process.terminate()
        self.process.wait(timeout=30)

    @property
    def printed(self) -> str:
        return self._paper.read_text()

    def first_answer_s(self) -> float:
        """Seconds from the start to the first answer."""
        while time.monotonic() - self._began < PATIENCE_S:
            try:
                self.get("/sign-in/")
            except OSError:
                assert self.process.poll() is None, self.printed
                time.sleep(0.05)
            else:
                return time.monotonic() - self._began
        raise AssertionError(f"no answer in {PATIENCE_S} s: {self.printed}")

    def get(self, path: str, **headers: str) -> tuple[int, dict[str, str], bytes]:
        request = urllib.request.Request(
            self.here + path,
            headers={k.replace("_", "-"): v for k, v in headers.items()},
        )
        try:
            with urllib.request.urlopen(request) as answer:
                return answer.status, dict(answer.headers), answer.read()
        except urllib.error.HTTPError as answer:
            return answer.code, dict(answer.headers), answer.read()
