"""What is read in the sun stands out seven to one, by the style sheet's own colours."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders

AGAINST = ("paper", "sheet")
# Text, states and what can be tapped; a hairline says nothing by itself.
READ = ("ink", "pale", "tap")
SEVEN = 7.0


def schemes() -> dict[str, dict[str, str]]:
    found = finders.find("web/shop.css")
    assert isinstance(found, str)
    css = Path(found).read_text()
    light, _, rest = css.partition("prefers-color-scheme: dark")
    dark = rest[: rest.index("}")]
    hexes = re.compile(r"--([a-z-]+): (#[0-9a-f]{6})")
    return {"light": dict(hexes.findall(light)), "dark": dict(hexes.findall(dark))}


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_formula_gives_the_known_ends() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_text_and_states_stand_out_seven_to_one(scheme: str) -> None:
    colours = schemes()[scheme]
    pairs = [(one, ground) for one in READ for ground in AGAINST] + [("on-tap", "tap")]
    faint = {
        pair: round(contrast(colours[pair[0]], colours[pair[1]]), 2)
        for pair in pairs
        if contrast(colours[pair[0]], colours[pair[1]]) < SEVEN
    }
    assert faint == {}
