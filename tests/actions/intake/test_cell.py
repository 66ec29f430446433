"""Cells are read as spreadsheets write them, or told by their column."""

from datetime import date

import pytest

from fabshop import words
from fabshop.actions.intake.cell import BadRow, Cells
from fabshop.actions.intake.table import Row


def cells(**seen):
    return Cells(Row(7, seen))


@pytest.mark.parametrize(
    "seen", ["2027-09-24", "24.9.2027", "46654", "46654.0", "2027-09-24 00:00:00"]
)
def test_row_57_a_day_in_all_its_writings(seen):
    """Row 57: Excel dates."""
    assert cells(on=seen).day("on") == date(2027, 9, 24)


def test_row_57_decimal_commas():
    """Row 57: decimal commas."""
    row = cells(quantity="0,4", mass="0,5 kg", minutes="1,5 h", lead="8,0")
    assert row.milli("quantity") == 400
    assert row.mass_mg("mass") == 500_000
    assert row.minutes("minutes") == 90
    assert row.whole("lead") == 8


def test_words_are_known_by_value_and_by_label():
    row = cells(state="Stand-in", kind="cut for us", side="")
    assert row.word("state", words.ComponentState, words.ComponentState.FINAL) == (
        words.ComponentState.STAND_IN
    )
    assert row.word("kind", words.OrderKind, words.OrderKind.BOUGHT) == "cut"
    assert row.word("side", words.Side, words.Side.NONE) is words.Side.NONE


@pytest.mark.parametrize(
    ("seen", "yes"), [("yes", True), ("X", True), ("no", False), ("", False)]
)
def test_yes_and_no(seen, yes):
    assert cells(flag=seen).is_yes("flag") is yes


def test_codes_may_be_divided_in_any_way():
    assert cells(after="W1, W2;W3 W4").codes("after") == ["W1", "W2", "W3", "W4"]
    assert cells(after="—").codes("after") == []


def test_all_bad_cells_of_a_row_are_told_at_once():
    row = cells(on="soon", points="many", flag="perhaps")
    row.day("on")
    row.points("points")
    row.is_yes("flag")
    with pytest.raises(BadRow) as refused:
        row.refuse_if_bad()
    assert [(c.row, c.column, c.seen) for c in refused.value.bad] == [
        (7, "on", "soon"),
        (7, "points", "many"),
        (7, "flag", "perhaps"),
    ]


def test_minus_signs_of_all_kinds():
    assert cells(points="−3").points("points") == -3
    assert cells(points="-3.0").points("points") == -3


@pytest.mark.django_db
def test_a_moment_is_on_the_shops_wall_clock(shop):
    row = cells(at="2027-09-22 12:00", bare="2027-09-22", none="")
    assert row.moment("at").isoformat() == "2027-09-22T12:00:00+01:00"
    assert row.moment("bare").hour == 12
    assert row.moment("none") is None
