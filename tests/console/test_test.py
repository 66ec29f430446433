"""`test` runs pytest on what it is given, away from the shop that is kept here."""

from __future__ import annotations

import os
from pathlib import Path

from tests.console.started import HOME, manage


def test_it_runs_what_it_is_given_and_gives_back_how_that_went(tmp_path: Path) -> None:
    file = "tests/test_clock.py"
    done = manage("test", file, "-k", "utc", data=tmp_path)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "1 passed" in done.stdout
    done = manage("test", file, "-k", "nothing_of_that_name", data=tmp_path)
    assert done.returncode == 5, done.stdout + done.stderr


def test_it_keeps_away_from_the_shops_data(tmp_path: Path) -> None:
    manage("test", "tests/test_clock.py", "-k", "utc", data=tmp_path)
    assert not (tmp_path / "shop.sqlite3").exists()
    assert not (tmp_path / "media").exists()


def test_without_a_browser_it_says_how_to_get_one(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text("import os; os.geteuid = lambda: 1000")
    done = manage(
        "test",
        "tests/test_clock.py",
        data=tmp_path / "data",
        PATH=os.fspath(HOME / ".venv" / "no-programs-here"),
        PYTHONPATH=os.fspath(tmp_path),
    )
    assert done.returncode == 1
    assert done.stderr == (
        "The browser tests need Chromium. Install it: sudo apt-get install chromium, "
        "then: python3 manage.py test tests/test_clock.py\n"
    )
