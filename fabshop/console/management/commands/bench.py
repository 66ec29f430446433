"""Measures what the project promises; prints figures, never fails on time."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from argparse import ArgumentParser
from io import StringIO
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand

from fabshop.console.bench import (
    cutting,
    drawing,
    faults,
    page,
    phone,
    schedule,
    start,
    teardown,
)

PARTS = (
    "start",
    "pages",
    "teardown",
    "schedule",
    "cutting",
    "faults",
    "phone",
    "drawing",
)
_INSIDE = "FABSHOP_BENCH"


class Command(BaseCommand):
    help = "Print measured figures. It works on a demo shop of its own, not on yours."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "parts", nargs="*", metavar="PART", help=f"Of {', '.join(PARTS)}; or all."
        )
        parser.add_argument(
            "--limit", type=float, default=10.0, help="Seconds a question may take."
        )
        parser.add_argument(
            "--graphs", metavar="FOLDER", help="Open disassembly graphs, as JSON."
        )
        parser.add_argument(
            "--rcpsp", metavar="FOLDER", help="Open projects, as .sm files."
        )
        parser.add_argument(
            "--jobshop", metavar="FILE", help="Open job shops, as JSON."
        )
        parser.add_argument(
            "--cutting", metavar="FOLDER", help="Single-length sets, as text files."
        )

    def handle(
        self,
        *args: Any,
        parts: list[str],
        limit: float,
        graphs: str | None,
        **options: Any,
    ) -> None:
        wanted = [part for part in PARTS if not parts or part in parts]
        if "start" in wanted:
            self._print("start", start.rows())
        if "pages" in wanted:
            if os.environ.get(_INSIDE):
                call_command("migrate", verbosity=0, interactive=False)
                call_command("load_demo", stdout=StringIO())
                self._print("pages", page.rows())
            else:
                self._pages_elsewhere()
        if "teardown" in wanted:
            self._print("teardown", teardown.rows(graphs, limit))
        if "schedule" in wanted:
            found = schedule.rows(options["rcpsp"], options["jobshop"], limit)
            self._print("schedule", found)
        if "cutting" in wanted:
            self._print("cutting", cutting.rows(options["cutting"], limit))
        if "drawing" in wanted:
            self._print("drawing", drawing.rows())
        if "faults" in wanted:
            self._print("faults", faults.rows())
        if "phone" in wanted:
            self._print("phone", phone.rows())

    def _print(self, name: str, rows: Any) -> None:
        self.stdout.write(f"\n{name}")
        for row in rows:
            self.stdout.write(f"  {row}")
            self.stdout.flush()

    def _pages_elsewhere(self) -> None:
        with tempfile.TemporaryDirectory() as folder:
            environment = {**os.environ, "FABSHOP_DATA": folder, _INSIDE: "1"}
            environment.pop("DATABASE_URL", None)
            subprocess.run(
                [sys.executable, sys.argv[0], "bench", "pages"],
                env=environment,
                check=False,
            )
