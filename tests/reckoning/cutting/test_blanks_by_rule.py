"""The packing by rule is a packing: nothing overlaps, free sheets are filled first."""

from hypothesis import given, settings
from hypothesis import strategies as st

from fabshop.reckoning.cutting.blank_places import Part, Sheet, ways
from fabshop.reckoning.cutting.blanks_by_rule import by_rule
from fabshop.reckoning.questions.blanks import Blank, SheetStock


def sheet(length: int, width: int, cost: int = 0) -> Sheet:
    stock = SheetStock("s", length / 1000, width / 1000)
    return Sheet(stock, length, width, cost)


def part(length: int, width: int) -> Part:
    return Part(Blank("b", length / 1000, width / 1000), length, width)


def places_of(parts: list[Part], sheets: list[Sheet]) -> list:
    return [
        place
        for n, one in enumerate(parts)
        for s, of in enumerate(sheets)
        for place in ways(n, one, s, of)
    ]


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 9), st.integers(1, 9)), min_size=1, max_size=9)
)
def test_nothing_overlaps_or_leaves_its_sheet(sizes: list[tuple[int, int]]) -> None:
    sheets = [sheet(10, 8), sheet(7, 12)]
    parts = [part(a, b) for a, b in sizes]
    laid = by_rule(places_of(parts, sheets), sheets, len(parts))
    taken: set[tuple[int, int, int]] = set()
    for one in laid.values():
        for x in range(one.x_um, one.x_um + one.place.length_um):
            for y in range(one.y_um, one.y_um + one.place.width_um):
                cell = (one.place.sheet, x, y)
                assert cell not in taken
                taken.add(cell)
                assert x < sheets[one.place.sheet].length_um
                assert y < sheets[one.place.sheet].width_um


def test_the_first_sheet_is_filled_before_the_next() -> None:
    sheets = [sheet(10, 10), sheet(10, 10, cost=5)]
    parts = [part(5, 5) for _ in range(4)]
    laid = by_rule(places_of(parts, sheets), sheets, 4)
    assert {one.place.sheet for one in laid.values()} == {0}


def test_what_fits_nowhere_is_left_out() -> None:
    assert by_rule([], [], 1) == {}
