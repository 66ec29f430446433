"""The first page's paint is measured in a real browser, slowed down."""

from __future__ import annotations

import re

import pytest

from fabshop.console.bench import phone


def test_both_turns_say_when_the_page_was_painted(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(phone, "TURNS", 1)
    told = list(phone.rows())
    assert len(told) == 2
    for row in told:
        found = re.search(r"first paint (\d+) ms, largest (\d+) ms", row)
        assert found and 0 < int(found[1]) <= int(found[2])
