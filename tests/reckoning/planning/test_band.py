"""The picture of hours wanted against hours there are."""

from __future__ import annotations

from fabshop.reckoning.planning.band import HIGH, WIDE, picture


def row(day, p10, p50, p90, available):
    at = f"2031-05-{day:02d}T00:00"
    return {"at": at, "p10": p10, "p50": p50, "p90": p90, "available": available}


def test_a_band_lies_between_its_lines_and_inside_the_picture():
    drawn = picture([row(5, 500, 600, 700, 800), row(6, 100, 200, 300, 400)])
    assert drawn is not None
    points = [tuple(map(float, p.split(","))) for p in drawn.band.split()]
    assert len(points) == 4
    assert all(0 <= x <= WIDE and 0 <= y <= HIGH for x, y in points)
    assert points[0][1] < points[3][1]
    assert drawn.says == "In nine runs of ten the hours suffice on every day."


def test_the_first_day_that_may_not_suffice_is_named():
    drawn = picture(
        [row(5, 500, 600, 700, 800), row(6, 100, 390, 450, 400), row(7, 0, 0, 0, 0)]
    )
    assert drawn is not None
    assert drawn.says == (
        "From Tue 6 May on, one run in ten wants more hours than there are."
    )


def test_there_is_nothing_to_draw_without_a_deadline():
    assert picture([]) is None
    assert picture([row(5, 1, 2, 3, None), row(6, 1, 2, 3, None)]) is None
