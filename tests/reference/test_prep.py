"""The checklists against the texts they are taken from."""

from __future__ import annotations

import pytest

from fabshop import words
from fabshop.reference.caution import cautions
from fabshop.reference.prep import PrepRow, prep_rows


def step(metal: str, part: str) -> PrepRow:
    (found,) = [row for row in prep_rows()[words.Metal(metal)] if part in row.text]
    return found


@pytest.mark.parametrize("metal", list(words.Metal))
def test_every_metal_has_a_checklist_numbered_through(metal: words.Metal) -> None:
    rows = prep_rows()[metal]
    assert [row.number for row in rows] == list(range(1, len(rows) + 1))
    # A stop before the tack, before the weld and before it is accepted.
    assert {row.stage for row in rows if row.is_stop} == set(words.PrepStage)
    assert [row.does for row in rows].count(words.PrepDoes.CLEANS) == 1
    order = list(words.PrepStage)
    stages = [order.index(row.stage) for row in rows]
    assert stages == sorted(stages)
    assert all(row.source for row in rows)
    assert {row.caution for row in rows} <= {"", *cautions()}


@pytest.mark.parametrize(
    ("metal", "part", "is_stop", "source"),
    [
        # MIL-STD-2219A 5.2.2.2: chlorinated solvents shall not be used; clean
        # lint-free gloves for cleaned filler and joint surfaces
        ("titanium", "No chlorinated solvent", True, "MIL-STD-2219A"),
        ("titanium", "lint-free gloves", True, "5.2.2.2"),
        ("titanium", "Filler of the right grade", True, "MIL-STD-2219A"),
        # suppliers' guides: at least 25 mm each side, dedicated stainless brush
        ("titanium", "25 mm each side", True, "suppliers"),
        ("titanium", "touches titanium only", True, "suppliers"),
        # NAVSEA S9074-AR-GIB-010/278 6.2.7.1
        ("titanium", "vent open", True, "6.2.7.1"),
        # AWS G2.4: separate flowmeters for torch, trailing and backup gas
        ("titanium", "Trailing shield", True, "AWS G2.4"),
        # GVSU notes: 427 °C, 800 °F
        ("titanium", "below 427 °C", True, "800 °F"),
        # Lloyd's Register Rules for Materials ch. 13, 7.4.7 and 7.4.3
        ("stainless", "without chlorides", True, "7.4.7"),
        ("stainless", "Back purge on", True, "7.4.3"),
        # FAA AC 43.13-1B CHG 1, 4-77b
        ("chromoly", "no brass or bronze brush", True, "4-77b"),
        ("chromoly", "21 °C (70 °F)", True, "70 °F"),
        # US Army TB 9-2510-242-40, 4.1.3e (4 in) and 4.1.4 (no 6061 filler)
        ("aluminium", "100 mm around", True, "4 in"),
        ("aluminium", "never 6061 rod", True, "4.1.4"),
        ("aluminium", "10 °C (50 °F)", True, "50 °F"),
    ],
)
def test_a_step_says_what_its_source_says(
    metal: str, part: str, is_stop: bool, source: str
) -> None:
    row = step(metal, part)
    assert row.is_stop is is_stop
    assert source in row.source


def test_an_inch_and_a_degree_are_turned_rightly() -> None:
    assert round((800 - 32) / 1.8) == 427
    assert round((70 - 32) / 1.8) == 21
    assert round((50 - 32) / 1.8) == 10
    assert pytest.approx(100, abs=2) == 4 * 25.4
    assert pytest.approx(1.5, abs=0.03) == 0.060 * 25.4


def test_no_list_degreases_after_it_brushes() -> None:
    # Mathers 4.7 for aluminium, ASTM B600-11 section 2 for titanium
    for metal in words.Metal:
        texts = [row.text for row in prep_rows()[metal]]
        degreased = [n for n, text in enumerate(texts) if text.startswith("Degreased")]
        brushed = [
            n
            for n, text in enumerate(texts)
            if text.startswith(("Abraded", "Brushed", "Bright metal", "Oxide off"))
        ]
        assert degreased
        assert brushed
        assert max(degreased) < min(brushed), metal


def test_no_list_gives_a_welding_parameter() -> None:
    for rows in prep_rows().values():
        for row in rows:
            assert not {"A,", "amps", "l/min", "polarity"}.intersection(
                row.text.split()
            )
