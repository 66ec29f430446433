"""Figures are read as people write them, exactly, or refused with what was seen."""

import re
from datetime import date, datetime

import pint
import pytest

from fabshop import units, words
from fabshop.errors import BadInput


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("70", 70),
        ("70 min", 70),
        ("1 h 10", 70),
        ("1h10", 70),
        ("1:10", 70),
        ("1,5 h", 90),
        ("2.4h", 144),
        ("0", 0),
        ("  ", None),
    ],
)
def test_minutes_are_read_as_people_write_them(text, minutes):
    assert units.parse_minutes(text, field="off_minutes") == minutes


@pytest.mark.parametrize("text", ["soon", "-5", "1 h 10 20", "99999999", "1:75"])
def test_a_time_that_is_none_is_refused_with_the_text_seen(text):
    with pytest.raises(BadInput) as refused:
        units.parse_minutes(text, field="off_minutes", label="Minutes off")
    assert refused.value.field == "off_minutes"
    assert text in refused.value.message
    assert refused.value.message.startswith("Minutes off: ")


def test_minutes_are_shown_in_hours():
    shown = [units.show_minutes(m) for m in (0, 57, 60, 70, 605, -20, -90)]
    assert shown == [
        "0 min",
        "57 min",
        "1 h",
        "1 h 10",
        "10 h 05",
        "−20 min",
        "−1 h 30",
    ]


@pytest.mark.parametrize(
    ("text", "milli"), [("14", 14000), ("0,4", 400), ("0.25", 250), ("-3", -3000)]
)
def test_quantities_are_thousandths_exactly(text, milli):
    assert units.parse_milli(text, field="quantity") == milli


@pytest.mark.parametrize("text", ["", "two", "0.0001", "99999999999", "1e3", "١٤x"])
def test_a_quantity_that_is_none_is_refused(text):
    with pytest.raises(BadInput):
        units.parse_milli(text, field="quantity")


def test_quantities_are_shown_without_tailing_noughts():
    shown = [units.show_milli(m) for m in (14000, 400, 1250, 0, -34000)]
    assert shown == ["14", "0.4", "1.25", "0", "-34"]


@pytest.mark.parametrize("unit", ["mg", "g", "kg", "oz", "lb"])
def test_masses_agree_with_a_units_library(unit):
    registry = pint.UnitRegistry()
    for number in ("0.5", "1", "14", "612"):
        expected = registry.Quantity(float(number), unit).to("mg").magnitude
        assert units.parse_mass_mg(f"{number} {unit}", field="mass") == pytest.approx(
            expected, abs=0.6
        )


@pytest.mark.parametrize("unit", ["mm", "cm", "m", "in"])
def test_lengths_agree_with_a_units_library(unit):
    registry = pint.UnitRegistry()
    for number in ("0.04", "1", "6.35", "218"):
        expected = registry.Quantity(float(number), unit).to("micrometer").magnitude
        assert units.parse_length_um(f"{number}{unit}", field="x") == pytest.approx(
            expected, abs=0.6
        )


def test_inches_may_be_fractions():
    assert units.parse_length_um("1/4 in", field="od") == 6350
    assert units.parse_length_um("6,35", field="od") == 6350
    assert units.parse_length_um("1 1/4 in", field="od") == 31_750
    assert units.parse_length_um('1/8"', field="od") == 3175
    with pytest.raises(BadInput, match="1/0 in"):
        units.parse_length_um("1/0 in", field="od")


@pytest.mark.parametrize(
    ("text", "length_um"),
    [
        ("040 in", 1016),
        ("0625 in", 1588),
        ("0.040 in", 1016),
        ("040 mm", 40_000),
        ("4 in", 101_600),
        ("0 in", 0),
        ("0,5 mm", 500),
    ],
)
def test_a_wall_named_in_thousandths_of_an_inch_is_read_so(text, length_um):
    assert units.parse_length_um(text, field="wall") == length_um
    assert units.parse_length_um(units.show_length(length_um), field="x") == length_um


@pytest.mark.parametrize("text", ["heavy", "5 stone", "-1", "9999999 kg"])
def test_a_mass_that_is_none_is_refused(text):
    with pytest.raises(BadInput):
        units.parse_mass_mg(text, field="mass")


@pytest.mark.parametrize("text", ["2027-09-18", "18.9.2027", "18/09/2027"])
def test_days_are_read_day_first_or_by_the_standard(text):
    assert units.parse_day(text, field="eta_on") == date(2027, 9, 18)


@pytest.mark.parametrize("text", ["next week", "2027-13-01", "31.2.2027"])
def test_a_day_that_is_none_is_refused_with_the_text_seen(text):
    with pytest.raises(BadInput) as refused:
        units.parse_day(text, field="eta_on", label="Arrives")
    assert f"“{text}”" in refused.value.message


def test_whole_numbers_have_a_bound():
    assert units.parse_whole("8", field="count") == 8
    assert units.parse_whole("", field="count") is None
    for text in ("-1", "2.5", "40000", "eight"):
        with pytest.raises(BadInput, match="from 0 to 32000"):
            units.parse_whole(text, field="count")


def test_a_mass_is_shown_in_grams():
    assert units.show_mass(118_000) == "118 g"
    assert units.show_mass(500) == "0.5 g"


def test_a_text_without_end_is_cut_in_the_refusal():
    with pytest.raises(BadInput) as refused:
        units.parse_day("x" * 5000, field="eta_on")
    assert len(refused.value.message) < 120


def test_a_quantity_is_shown_with_its_unit_unless_it_is_pieces():
    shown = [
        units.show_quantity(400, words.Unit.SQUARE_METRE),
        units.show_quantity(14_000, words.Unit.PIECE),
        units.show_quantity(1500, words.Unit.GRAM),
    ]
    assert shown == ["0.4 m²", "14", "1.5 g"]


def test_days_and_moments_are_shown_with_their_weekday():
    assert units.show_day(date(2027, 9, 16)) == "Thu 16 Sep"
    assert units.show_moment(datetime(2027, 9, 18, 18, 0)) == "Sat 18 Sep 18:00"


@pytest.mark.parametrize(
    ("typed", "sizes"),
    [
        ("8x0.9", (8000, 900)),
        ("8 × 0,9", (8000, 900)),
        ("300 x 400", (300_000, 400_000)),
        ("300 x 400 mm", (300_000, 400_000)),
        ("1/4 x 0.035 in", (6350, 889)),
        ("1 1/4 in x 2 mm", (31_750, 2000)),
        ("1/8", (3175,)),
        ("1/8 in", (3175,)),
        ("0.25in", (6350,)),
        ('1/4"', (6350,)),
        ("6,35", (6350,)),
        ("040", (1016,)),
        ("040 mm", (40_000,)),
    ],
)
def test_a_size_is_read_as_people_write_it(typed: str, sizes: tuple[int, ...]) -> None:
    read = units.parse_sizes_um(typed, count=len(sizes), field="size")
    assert read == sizes


def test_a_size_is_shown_in_millimetres_before_it_is_kept() -> None:
    sizes = units.parse_sizes_um("1/4 x 040", count=2, field="size")
    assert sizes is not None
    assert units.show_sizes(*sizes) == "6.35 × 1.016 mm"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("8", "has 1 measure, but 2 are asked. Write them like 8 x 0.9."),
        ("8 x 1 x 2", "has 3 measures, but 2 are asked."),
        ("0 x 1", "has a measure of nothing. Each is more than 0."),
        ("-8 x 1", "has a measure of nothing."),
        ("8 x", "has a measure of nothing."),
        ("8 x wide", "is not a length"),
        ("x x x", "has 4 measures"),
    ],
)
def test_a_size_that_cannot_be_is_refused_in_words(typed: str, said: str) -> None:
    with pytest.raises(BadInput, match=re.escape(said)) as error:
        units.parse_sizes_um(typed, count=2, field="size", label="Section")
    assert error.value.field == "size"
    assert error.value.message.startswith("Section: ")


def test_no_size_is_none() -> None:
    assert units.parse_sizes_um("  ", count=2, field="size") is None
