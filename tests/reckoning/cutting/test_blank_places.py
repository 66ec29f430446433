"""How a blank may lie follows from its size and its grain."""

import pytest

from fabshop.reckoning.cutting.blank_places import Part, Sheet, ways
from fabshop.reckoning.questions.blanks import Blank, SheetStock


def turned(size: tuple[int, int], grain: str, of_sheet: str) -> list[bool]:
    blank = Blank("b", size[0], size[1], grain=grain)  # type: ignore[arg-type]
    stock = SheetStock("s", 100, 60, grain=of_sheet)  # type: ignore[arg-type]
    part = Part(blank, size[0] * 1000, size[1] * 1000)
    sheet = Sheet(stock, 100_000, 60_000, 0)
    return [place.turned for place in ways(0, part, 0, sheet)]


@pytest.mark.parametrize(
    ("size", "grain", "of_sheet", "may"),
    [
        ((50, 20), "", "", [False, True]),
        ((50, 20), "length", "", [False, True]),
        ((50, 20), "", "length", [False, True]),
        ((50, 20), "length", "length", [False]),
        ((50, 20), "length", "width", [True]),
        ((50, 20), "width", "width", [False]),
        ((30, 30), "", "", [False]),
        ((30, 30), "width", "length", [True]),
        ((80, 20), "", "", [False]),
        ((120, 20), "", "", []),
    ],
)
def test_it_is_turned_only_as_size_and_grain_allow(
    size: tuple[int, int], grain: str, of_sheet: str, may: list[bool]
) -> None:
    assert turned(size, grain, of_sheet) == may
