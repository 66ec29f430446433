"""The faces' clock is aware, in UTC, and can be made to stand still."""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

from freezegun import freeze_time

from fabshop import clock

HOME = Path(__file__).resolve().parent.parent


def test_it_says_this_moment_in_utc() -> None:
    before = datetime.now(tz=UTC)
    said = clock.now()
    assert before <= said <= datetime.now(tz=UTC)
    assert said.utcoffset() == timedelta(0)


def test_a_test_may_freeze_it() -> None:
    with freeze_time("2027-09-03T05:45:00Z"):
        assert clock.now() == datetime(2027, 9, 3, 5, 45, tzinfo=UTC)


def test_the_environment_may_hold_it_still(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", "from fabshop import clock; print(clock.now())"],
        cwd=HOME,
        env={
            **os.environ,
            "DJANGO_SETTINGS_MODULE": "fabshop.settings",
            "FABSHOP_DATA": str(tmp_path),
            "FABSHOP_NOW": "2027-09-03T06:45+01:00",
        },
        capture_output=True,
        text=True,
    )
    assert done.stdout == "2027-09-03 05:45:00+00:00\n", done.stderr
