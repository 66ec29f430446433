"""Row 57 of the bad input: the many ways a spreadsheet writes a CSV are read."""

from datetime import date

import pytest

from fabshop.actions.intake.table import MOST_BYTES, read_table, serial_day
from fabshop.errors import BadInput, TooLarge

COLUMNS = ("code", "name", "off")


def read(text, encoding="utf-8"):
    return read_table(text.encode(encoding), columns=COLUMNS, needed=("code", "name"))


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_row_57_a_mark_in_front_or_old_text_is_read(encoding):
    table = read("code,name\nT01,Tube für vorn\n", encoding)
    assert table.rows[0].cells == {"code": "T01", "name": "Tube für vorn"}
    assert table.rows[0].number == 2


@pytest.mark.parametrize("divider", [",", ";", "\t"])
def test_row_57_semicolons_and_tabs_divide_too(divider):
    table = read(divider.join(("Code", "Name", "off")) + "\nT01" + divider + "Tube\n")
    assert table.rows[0]["name"] == "Tube"
    assert table.rows[0]["off"] == ""


def test_row_57_a_missing_column_is_named_with_the_heading_seen():
    with pytest.raises(BadInput, match="The column code is missing") as refused:
        read("id;name\n1;Tube\n")
    assert "id, name" in refused.value.message


def test_row_57_an_empty_cell_and_one_too_many_are_told_by_row_and_column():
    table = read("code,name,off\nT01,,3\nT02,Pan,6,7\nT03,Hoop,4\n")
    assert [(cell.row, cell.column, cell.message) for cell in table.bad] == [
        (2, "name", "is empty"),
        (3, "", "has 4 cells where the heading has 3"),
    ]
    assert [row["code"] for row in table.rows] == ["T01", "T02", "T03"]


def test_row_57_row_numbers_are_those_of_the_spreadsheet_over_empty_lines():
    assert [row.number for row in read("code,name\n\nT01,a\n,\nT02,b\n").rows] == [3, 5]


def test_an_unknown_column_is_said_and_not_read():
    assert "colour" in read("code,name,colour\nT01,a,red\n").notices[0]


def test_a_column_twice_is_refused():
    with pytest.raises(BadInput, match="name is there twice"):
        read("code,name,name\n")


def test_nothing_is_refused_and_so_is_too_much():
    with pytest.raises(BadInput, match="empty"):
        read(" \n")
    with pytest.raises(TooLarge, match="2,000,000 is the most"):
        read("x" * (MOST_BYTES + 1))


def test_bytes_that_are_no_text_are_said():
    table = read("code,name\nT01,a\0b\n")
    assert table.rows[0]["name"] == "ab"
    assert "no text" in table.notices[0]


def test_row_57_a_day_kept_as_a_bare_number_is_a_day():
    assert serial_day("46653") == date(2027, 9, 23)
    assert serial_day("46653.0") == date(2027, 9, 23)
    assert serial_day("2027") is None
    assert serial_day("14") is None
    assert serial_day("2027-09-23") is None
