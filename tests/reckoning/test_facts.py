"""Facts answer by code, and know what is owed and what lies out of the ordinary."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fabshop.reckoning.facts import DayFact, PieceFact, Span
from fabshop.words import PieceForm
from tests.reckoning.facts_for import (
    NOW,
    at,
    component,
    day,
    line,
    missing,
    order,
    shop,
)


def test_facts_are_found_by_their_codes():
    facts = shop(components=[component("A")], orders=[order("P1")])
    assert facts.component_by_id["A"].id == "A"
    assert facts.line_by_id["P1/1"].order == "P1"
    assert facts.build_by_id["buggy"].name == "Buggy"


def test_owed_is_what_nothing_accounts_for_and_never_less_than_nothing():
    assert line("P/1", 60, accepted_milli=45_000).owed_milli == 15_000
    settled = line("P/1", 60, accepted_milli=45_000, written_off_milli=15_000)
    assert settled.owed_milli == 0
    assert line("P/1", 1, accepted_milli=3_000).owed_milli == 0


def test_a_wall_clock_that_changes_is_followed():
    facts = shop(wall_shifts=((day(3), -60), (day(8), 0)))
    moments = [facts.moment_on(day(n), 18 * 60) for n in (2, 3, 7, 8)]
    assert moments == [at(2, 18), at(3, 19), at(7, 19), at(8, 18)]


def test_a_day_brings_parcels_unless_it_says_otherwise():
    facts = shop(days=(DayFact(day(1), has_deliveries=False),))
    found = [facts.is_without_delivery(day(n)) for n in (0, 1)]
    assert found == [False, True]


def test_a_span_ends_after_it_starts():
    with pytest.raises(ValueError, match="before it starts"):
        Span(NOW, NOW)


def test_what_is_missing_is_absent():
    assert missing("A").is_absent and not component("A", is_on=False).is_absent


def test_what_tasks_hold_of_a_piece_is_not_free():
    held = (("W41", 300), ("W45", 200))
    piece = PieceFact("M1", PieceForm.TUBE, "304", left_um=1000, held=held)
    assert (piece.held_um, piece.free_um) == (500, 500)
    assert [piece.free_for(*tasks) for tasks in ((), ("W45",), ("W41", "W45"))] == [
        *(500, 700, 1000),
    ]


def test_a_lot_is_unknown_only_where_there_could_be_one():
    metal = PieceFact("M1", PieceForm.SHEET, "304", left_um=1)
    assert metal.lot_is_unknown and metal.is_flat
    assert not replace(metal, has_heat=False).lot_is_unknown
    assert not replace(metal, heat_lot="7K214").lot_is_unknown
