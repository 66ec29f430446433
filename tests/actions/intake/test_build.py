"""Builds and components come out of a table as out of the forms."""

from datetime import date

import pytest

from fabshop import words
from fabshop.records.build import Build, Component
from tests.factories import ComponentFactory

pytestmark = pytest.mark.django_db

COMPONENTS = """code;build;name;state;twin;under;off_minutes;fastenings;mass
T08;T;Roof plate;final;;;5;6×M3×8 BH /m;55
T09;T;Scuttle cowl;dry-fit;;T08;5;4x clips;26
T10;T;Dash panel;stand-in;;T08 T09;6;4×M2.5×6 CS /n;0,033 kg
T06;tuppence;Side panel L;stand-in;T07;;6;;57
T07;tuppence;Side panel R;stand-in;T06;;6;;57
"""


def test_components_come_with_what_they_lie_under(take, tuppence):
    taken = take("components", COMPONENTS, accept="all")
    assert taken.is_written and taken.good == 5
    dash = Component.objects.get(code="T10")
    assert sorted(c.cover.code for c in dash.covers.all()) == ["T08", "T09"]
    assert dash.mass_mg == 33_000
    roof = Component.objects.get(code="T08").fastenings.get()
    assert (roof.count, roof.size, roof.locker) == (6, "M3×8 BH", words.Locker.MEDIUM)
    left, right = (Component.objects.get(code=code) for code in ("T06", "T07"))
    assert (left.twin, right.twin) == (right, left)


def test_ways_are_divided_by_a_bar(take, tuppence):
    for code in ("T11", "T14"):
        ComponentFactory(build=tuppence, code=code)
    take("components", "code,build,name,under\nT13,T,Loom,T11 | T14\n", accept="all")
    assert sorted(
        Component.objects.get(code="T13").covers.values_list("route", "cover__code")
    ) == [(1, "T11"), (2, "T14")]


def test_row_57_a_loop_in_the_table_is_told_in_words(take, tuppence):
    """Row 1 in a table: T10 under T09 under T10."""
    table = "code,build,name,under\nT09,T,Cowl,T10\nT10,T,Dash,T09\n"
    bad = take("components", table).bad
    assert {cell.column for cell in bad} == {"under"}
    assert any("T09" in cell.message and "T10" in cell.message for cell in bad)


def test_row_57_days_as_a_spreadsheet_keeps_them(take):
    """Row 57: Excel dates."""
    take(
        "builds",
        "name;letter;event_on;pack_out_at\nTuppence;T;46654;2027-09-22 12:00\n",
        accept="all",
    )
    build = Build.objects.get()
    assert build.event_on == date(2027, 9, 24)
    assert build.pack_out_at.isoformat() == "2027-09-22T11:00:00+00:00"


def test_row_11_in_a_table_too_many_minutes_are_told(take, tuppence):
    """Row 11: > 480 is asked about, so it is not taken in silence."""
    (cell,) = take("components", "code,build,name,off_minutes\nT1,T,A,9999\n").bad
    assert cell.column == "off_minutes"


def test_a_fastening_that_is_none_is_told(take, tuppence):
    (cell,) = take("components", "code,build,name,fastenings\nT1,T,A,some screws\n").bad
    assert cell.column == "fastenings"
    assert cell.message == "“some screws” is not like 8×M3×8 BH /m"


def test_a_build_or_twin_nobody_knows_is_told(take, tuppence):
    table = "code,build,name,twin\nT1,X,A,\nT2,T,B,T9\n"
    bad = take("components", table).bad
    assert [(c.row, c.column) for c in bad] == [(2, "build"), (3, "twin")]
