"""Before anybody has started the shop, a command says so in one line."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

HOME = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize(
    "command",
    [
        ("audit",),
        ("api_token", "Odile"),
        ("print_sheets", "--build", "tuppence", "--to", "sheets"),
    ],
)
def test_without_a_shop_the_next_command_is_named(
    command: tuple[str, ...], tmp_path: Path
) -> None:
    env = {k: v for k, v in os.environ.items() if k != "DATABASE_URL"}
    env["FABSHOP_DATA"] = str(tmp_path)
    told = subprocess.run(
        [sys.executable, str(HOME / "manage.py"), *command],
        env=env,
        capture_output=True,
        text=True,
        check=False,
    )
    assert told.returncode == 1
    assert told.stderr.splitlines() == [
        "CommandError: Nothing is set up here yet. Start the shop once: "
        "python3 manage.py serve (with --demo for the demo shop)."
    ]
