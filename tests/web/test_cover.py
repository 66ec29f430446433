"""The picture puts every cover above what lies under it, and hides nothing."""

from fabshop.web.cover import A_ROW, MOST_DRAWN, Place, picture_of


def places(*codes):
    return [Place(code, f"name of {code}", "final", True) for code in codes]


def test_what_covers_stands_above_what_lies_under_it():
    covers = {"T09": ["T08"], "T10": ["T08", "T09"]}
    picture = picture_of(places("T08", "T09", "T10"), covers)
    tops = {box.place.code: box.y for box in picture.boxes}
    assert tops["T08"] < tops["T09"] < tops["T10"]


def test_a_line_that_longer_ones_already_say_is_left_out():
    covers = {"T09": ["T08"], "T10": ["T08", "T09"]}
    picture = picture_of(places("T08", "T09", "T10"), covers)
    assert len(picture.lines) == 2


def test_what_neither_covers_nor_is_covered_is_listed_not_drawn():
    picture = picture_of(places("T01", "T08", "T09"), {"T09": ["T08"]})
    assert picture.free == ("T01",)
    assert {box.place.code for box in picture.boxes} == {"T08", "T09"}


def test_no_box_lies_on_another_and_all_stay_inside():
    codes = [f"T{n:02d}" for n in range(1, 20)]
    covers = {code: ["T01"] for code in codes[1:]}
    picture = picture_of(places(*codes), covers)
    corners = {(box.x, box.y) for box in picture.boxes}
    assert len(corners) == len(codes)
    assert all(
        b.x > 0 and b.x + picture.box_width <= picture.width for b in picture.boxes
    )
    assert all(b.foot <= picture.height for b in picture.boxes)
    assert max(sum(b.y == y for b in picture.boxes) for _, y in corners) <= A_ROW


def test_nothing_over_nothing_is_no_picture_and_too_much_is_none_either():
    assert picture_of(places("T01", "T02"), {}) is None
    codes = [f"T{n}" for n in range(MOST_DRAWN + 2)]
    assert picture_of(places(*codes), {code: ["T0"] for code in codes[1:]}) is None


def test_a_loop_in_old_records_does_not_hang_the_page():
    picture = picture_of(places("A", "B"), {"A": ["B"], "B": ["A"]})
    assert len(picture.boxes) == 2
