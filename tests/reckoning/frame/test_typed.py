"""What is typed of a cope: units, the dial, the obtuse side, and what cannot be."""

from __future__ import annotations

import pytest

from fabshop.errors import BadInput
from fabshop.reckoning.frame.typed import cope_typed

PLAIN = {"od": "8", "wall": "0.9", "onto": "8", "angle": "62.5"}


def test_a_plain_cope() -> None:
    typed = cope_typed(PLAIN)
    (end,) = typed.template.ends
    assert (typed.template.od_mm, typed.template.wall_mm) == (8, 0.9)
    assert (end.onto_mm, end.angle_deg, end.dial_deg, end.offset_mm) == (
        8,
        62.5,
        27.5,
        0,
    )
    assert typed.template.paper_mm == 0.10
    assert typed.notes == ()


def test_row_39_inches_and_decimal_commas_are_read() -> None:
    typed = cope_typed(
        {"od": "1/4 in", "wall": "035 in", "onto": "0.25in", "angle": "62,5°"}
    )
    assert typed.template.od_mm == 6.35
    assert typed.template.wall_mm == 0.889
    assert typed.template.ends[0].onto_mm == 6.35


def test_what_the_dial_reads_is_turned_into_the_angle_between() -> None:
    typed = cope_typed(PLAIN | {"angle": "25", "reads": "dial"})
    assert typed.template.ends[0].angle_deg == 65


def test_the_obtuse_side_gives_its_supplement_and_says_so() -> None:
    typed = cope_typed(PLAIN | {"angle": "120"})
    assert typed.template.ends[0].angle_deg == 60
    assert "obtuse side" in typed.notes[0]


def test_both_ends_come_with_their_twist() -> None:
    typed = cope_typed(
        PLAIN | {"onto2": "8", "angle2": "48", "offset2": "0", "twist": "−14"}
    )
    assert [end.angle_deg for end in typed.template.ends] == [62.5, 48]
    assert typed.template.twist_deg == -14


@pytest.mark.parametrize(
    ("wrong", "field", "sentence"),
    [
        ({"od": ""}, "od", "Tube OD: nothing is written. It is needed."),
        ({"od": "0"}, "od", "Tube OD: 0 mm is not over 0"),
        ({"od": "lots"}, "od", "“lots” is not a length"),
        ({"wall": "4.1"}, "wall", "4.1 mm is not over 0 and up to the radius, 4."),
        ({"wall": "0"}, "wall", "0 mm is not over 0"),
        ({"onto": "6"}, "onto", "wraps past the mate by 1.00 mm"),
        ({"offset": "1"}, "offset", "wraps past the mate by 1.00 mm"),
        ({"angle": "0"}, "angle", "0 is not between 0 and 180 degrees"),
        ({"angle": "180"}, "angle", "180 is not between 0 and 180 degrees"),
        ({"angle": "steep"}, "angle", "“steep” is not degrees"),
        ({"angle": ""}, "angle", "Angle: is missing."),
        ({"thick": "3"}, "thick", "3 mm is not 0 to 1 mm"),
        ({"twist": "200"}, "twist", "200 is not -180 to 180 degrees"),
        ({"onto2": "8"}, "angle2", "Angle of the other end: is missing."),
    ],
)
def test_what_cannot_be_is_refused_by_its_field(
    wrong: dict[str, str], field: str, sentence: str
) -> None:
    with pytest.raises(BadInput) as refused:
        cope_typed(PLAIN | wrong)
    assert field in {error.field for error in refused.value.errors}
    assert sentence in refused.value.message


def test_everything_wrong_is_said_at_once() -> None:
    with pytest.raises(BadInput) as refused:
        cope_typed({"od": "x", "wall": "y", "onto": "z", "angle": "?"})
    assert [error.field for error in refused.value.errors] == [
        "od",
        "wall",
        "onto",
        "angle",
    ]
