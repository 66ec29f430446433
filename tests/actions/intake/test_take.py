"""A table is tried whole; nothing is written until it is accepted."""

import pytest

from fabshop.errors import BadInput, NotAllowed, NotFound
from fabshop.records.build import Component
from fabshop.records.log import LogEntry
from tests.factories import ComponentFactory

pytestmark = pytest.mark.django_db

TWO = "code,build,name\nT08,T,Roof plate\nT09,T,Scuttle cowl\n"


def test_row_57_trying_writes_nothing(take, tuppence):
    """Row 57: dry run first."""
    tried = take("components", TWO)
    assert (tried.good, tried.bad, tried.is_written) == (2, (), False)
    assert not Component.objects.exists() and not LogEntry.objects.exists()


def test_row_57_one_bad_row_of_three_hundred(take, tuppence):
    """Row 57: told by row and column; nothing written until "take the 299"."""
    rows = [f"X{n},T,Part {n},5" for n in range(1, 301)]
    rows[149] = "X150,T,Part 150,soon"
    table = "code,build,name,off_minutes\n" + "\n".join(rows)
    refused = take("components", table, accept="all")
    assert not refused.is_written and refused.good == 299
    (cell,) = refused.bad
    assert (cell.row, cell.column, cell.seen) == (151, "off_minutes", "soon")
    assert not Component.objects.exists()
    taken = take("components", table, accept="good")
    assert taken.is_written and Component.objects.count() == 299


def test_what_hangs_on_a_bad_row_is_bad_too(take, tuppence):
    table = (
        "code,build,name,under,off_minutes\n"
        "T08,T,Roof,,soon\nT09,T,Cowl,T08,5\nT10,T,Dash,,5\n"
    )
    taken = take("components", table, accept="good")
    assert [cell.row for cell in taken.bad] == [2, 3]
    assert taken.bad[1].column == "under"
    assert list(Component.objects.values_list("code", flat=True)) == ["T10"]


def test_row_57_a_code_twice_and_one_that_is_here_already(take, tuppence):
    """Row 57: duplicate ids."""
    ComponentFactory(build=tuppence, code="T01")
    table = "code,build,name\nT01,T,Frame\nT02,T,Pan\nT02,T,Pan again\n"
    bad = take("components", table).bad
    assert [(cell.row, cell.column) for cell in bad] == [(2, "code"), (4, "code")]
    assert bad[1].message == "is in row 3 already"


def test_row_57_a_missing_column_is_refused_whole(take):
    """Row 57: missing column."""
    with pytest.raises(BadInput, match="The column build is missing"):
        take("components", "code,name\nT01,Frame\n")


def test_an_unknown_kind_is_not_found(take):
    with pytest.raises(NotFound, match="There is no table of cats"):
        take("cats", "name\nTom\n")


def test_a_helper_takes_no_tables_in(take, helper):
    with pytest.raises(NotAllowed):
        take("suppliers", "name\nNib\n", by=helper)
