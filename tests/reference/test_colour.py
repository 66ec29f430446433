"""The colour table of titanium against the standard it is taken from."""

from __future__ import annotations

import pytest

from fabshop import words
from fabshop.reference.colour import colour_rows

# furpecon.com, "Titanium welding: weld colors tell a story": the order in which the
# colours come as contamination rises.
RISING = (
    "silver",
    "straw",
    "brown",
    "purple",
    "blue",
    "green",
    "pink",
    "grey",
    "white",
)


def verdicts() -> dict[str, str]:
    rows = colour_rows()[words.Metal.TITANIUM]
    return {row.colour.value: row.verdict.value for row in rows}


@pytest.mark.parametrize(
    ("colour", "verdict"),
    [
        # EN ISO 9606-5:2000 (as quoted): silver and straw accepted; darker brown,
        # purple, blue, grey and flaky white rejected
        ("silver", "accept"),
        ("straw", "accept"),
        ("gold", "accept"),
        ("brown", "reject"),
        ("purple", "reject"),
        ("blue", "reject"),
        ("grey", "reject"),
        ("white", "reject"),
        # TWI Summary 661/1998: tramlines must not by themselves reject
        ("lines-beside", "person"),
    ],
)
def test_a_colour_is_judged_as_the_standard_says(colour: str, verdict: str) -> None:
    assert verdicts()[colour] == verdict


def test_no_colour_past_a_rejected_one_is_accepted() -> None:
    judged = [verdicts()[colour] for colour in RISING]
    assert judged == sorted(judged)
    assert judged.index("reject") == RISING.index("brown")


def test_every_colour_of_the_samples_is_judged_with_its_source() -> None:
    rows = colour_rows()[words.Metal.TITANIUM]
    assert {row.colour for row in rows} == set(words.Colour)
    assert all(row.source and row.basis for row in rows)
    (black,) = [row for row in rows if row.colour is words.Colour.BLACK]
    assert black.basis == "from memory"


def test_no_other_metal_is_judged_by_a_table_of_ours() -> None:
    assert set(colour_rows()) == {words.Metal.TITANIUM}
