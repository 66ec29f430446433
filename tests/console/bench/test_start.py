"""The start's figures come out."""

from __future__ import annotations

import re

from fabshop.console.bench.start import rows


def test_both_starts_are_timed_and_weighed() -> None:
    told = list(rows())
    assert len(told) == 2
    for row in told:
        assert re.search(r"\d\.\d\d s to the first answer, \d+ MB at rest", row)
