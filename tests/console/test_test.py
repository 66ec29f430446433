"""`test` runs pytest on what it is given, away from the shop that is kept here."""

from __future__ import annotations

import os
from pathlib import Path

from tests.console.started import HOME, manage

ONE_AT_A_TIME = ("-n", "0")  # two more Pythons would only make this test slow
FILE = "tests/test_clock.py"


def test_it_runs_what_it_is_given_away_from_the_shops_data(tmp_path: Path) -> None:
    done = manage("test", *ONE_AT_A_TIME, FILE, "-k", "utc", data=tmp_path)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "1 passed" in done.stdout
    assert not (tmp_path / "shop.sqlite3").exists()
    assert not (tmp_path / "media").exists()


def test_it_gives_back_how_that_went(tmp_path: Path) -> None:
    done = manage("test", *ONE_AT_A_TIME, FILE, "-k", "nothing_so_named", data=tmp_path)
    assert done.returncode == 5, done.stdout + done.stderr


def test_without_a_browser_it_says_how_to_get_one(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text("import os; os.geteuid = lambda: 1000")
    done = manage(
        "test",
        FILE,
        data=tmp_path / "data",
        PATH=os.fspath(HOME / ".venv" / "no-programs-here"),
        PYTHONPATH=os.fspath(tmp_path),
    )
    assert done.returncode == 1
    assert done.stderr == (
        "The browser tests need Chromium. Install it: sudo apt-get install chromium, "
        f"then: python3 manage.py test {FILE}\n"
    )
