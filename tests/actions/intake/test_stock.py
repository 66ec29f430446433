"""A rack comes out of a table; what cannot be is told by row and column."""

import pytest

from fabshop.records.stock import Piece

pytestmark = pytest.mark.django_db

TABLE = """code,form,material,section,size,heat_lot,place,is_drop
M01,tube,4130,8x0.9,1000,4R118,rack 1,
M02,,304,1/4 x 0.035 in,"39,5 in",unknown,drop tray,yes
M06,rod,4130,3,660,4R077,rack 1,no
M16,sheet,5754,2.0,300 x 400,,sheet slot A,
"""


def test_tubes_rods_and_sheets_are_read_as_people_write_them(take, shop):
    tried = take("pieces", TABLE)
    assert (tried.good, tried.bad, tried.is_written) == (4, (), False)
    assert not Piece.objects.exists()
    assert take("pieces", TABLE, accept="all").is_written
    m01, m02, m06, m16 = Piece.objects.order_by("code")
    assert (m01.od_um, m01.wall_um, m01.length_um) == (8000, 900, 1_000_000)
    assert (m01.heat_lot, m01.place, m01.is_drop) == ("4R118", "rack 1", False)
    # 0.035 in is 0.889 mm; 39.5 in is 1003.3 mm
    assert (m02.od_um, m02.wall_um, m02.length_um) == (6350, 889, 1_003_300)
    assert m02.form == "tube" and m02.heat_lot == "" and m02.is_drop
    assert (m06.od_um, m06.length_um) == (3000, 660_000)
    assert (m16.thickness_um, m16.length_um, m16.width_um) == (2000, 300_000, 400_000)


def test_what_cannot_be_is_told_by_row_and_column(take, shop):
    table = (
        "code,form,material,section,size,is_drop\n"
        "M01,tube,4130,8x5,1000,\n"
        "M02,tube,4130,8,1000,perhaps\n"
        "M03,tube,kryptonite,8x1,1000,\n"
        "M04,beam,4130,8x1,long,\n"
        "M05,sheet,5754,2,300,\n"
        "M06,rod,4130,3,0,\n"
    )
    taken = take("pieces", table, accept="all")
    assert not taken.is_written and not Piece.objects.exists()
    said = {(cell.row, cell.column): cell.message for cell in taken.bad}
    assert "thicker than the radius" in said[2, "section"]
    assert "has 1 measure, but 2 are asked" in said[3, "section"]
    assert said[3, "is_drop"] == "is neither yes nor no"
    assert "kryptonite" in said[4, "material"]
    assert said[5, "form"].startswith("is none of")
    assert "“long” is not a length" in said[5, "size"]
    assert "but 2 are asked" in said[6, "size"]
    assert "more than 0" in said[7, "size"]
    assert {row for row, _ in said} == {2, 3, 4, 5, 6, 7}
