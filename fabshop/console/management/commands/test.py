"""Runs every test, after bringing what the tests need besides Python."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from typing import Any

from django.core.management.base import BaseCommand

from fabshop import prepare


class Command(BaseCommand):
    help = "Run the tests; what follows is handed to pytest."
    requires_system_checks = ()

    def run_from_argv(self, argv: list[str]) -> None:
        self.handle(*argv[2:])

    def handle(self, *args: str, **options: Any) -> None:
        prepare.chromium()
        prepare.poppler()
        if not prepare.pango():
            sys.exit(f"The tests need Pango. Install it with: {prepare.pango_line()}")
        with tempfile.TemporaryDirectory() as folder:
            # The tests never touch the shop that is kept here.
            environment = {**os.environ, "FABSHOP_DATA": folder}
            command = [sys.executable, "-m", "pytest", "-n", "2", "--dist", "worksteal"]
            sys.exit(
                subprocess.call([*command, *args], cwd=prepare.HOME, env=environment)
            )
