"""The bench prints the part that is asked for."""

from __future__ import annotations

from io import StringIO

import pytest
from django.core.management import call_command

from fabshop.console.bench import teardown


def test_one_part_is_measured(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(teardown.rows, "__defaults__", (((8, 3, 1, 1),),))
    said = StringIO()
    call_command("bench", "teardown", limit=2.0, stdout=said)
    first, row = said.getvalue().strip().splitlines()
    assert first == "teardown"
    assert "8/3/1 no 1" in row
    assert "optimal" in row
