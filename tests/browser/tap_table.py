"""The table of taps in DEVELOPERS.md, held against what was counted by touch."""

from __future__ import annotations

from pathlib import Path

from tests.browser.conftest import Taps

TABLE = Path(__file__).parents[2] / "DEVELOPERS.md"


def counted(taps: Taps, scenario: str, most: int) -> None:
    """No more taps than allowed, and the table says what was counted here."""
    taps.told(scenario, most)
    row = f"| {scenario} | {taps.count} | {most} |"
    print(f"\n{row}", end="")
    assert row in TABLE.read_text(), f"DEVELOPERS.md should say: {row}"
