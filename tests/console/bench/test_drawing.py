"""The bench reads a real drawing and is refused the hostile ones, in little memory."""

from __future__ import annotations

import re

from fabshop.console.bench import drawing


def test_two_megabytes_are_read_and_what_means_harm_is_refused() -> None:
    lines = list(drawing.rows())
    assert "outlines" in lines[0]
    assert all("refused:" in line for line in lines[1:])
    peaks = [
        int(found[1]) for line in lines if (found := re.search(r"(\d+) MB at", line))
    ]
    # The promise is about memory, which does not depend on how busy the machine is.
    assert max(peaks, default=0) < 300
