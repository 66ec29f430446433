"""One cope alone: typed, echoed in millimetres, its template, and the printer's fit."""

from __future__ import annotations

import pytest
from django.test import Client

from fabshop.records.frame import PrintFit

pytestmark = pytest.mark.django_db

TYPED = {"od": "1/4 in", "wall": "035 in", "onto": "8", "angle": "62,5"}


def test_the_numbers_the_picture_and_the_template(page: Client) -> None:
    assert "Two tubes and the angle" in page.get("/cope/").text
    shown = page.get("/cope/", TYPED)
    assert shown.status_code == 200
    assert "62.5° between, dial 27.5°." in shown.text
    echo = "Tube 6.35 × 0.889 mm onto 8 mm at 62.5° between."
    assert echo in shown.text
    assert 'role="img"' in shown.text
    assert "/paper/cope.pdf?od=1%2F4+in&amp;wall=035+in" in shown.text


def test_both_ends_with_their_twist(page: Client) -> None:
    both = {**TYPED, "onto2": "8", "angle2": "48", "twist": "-14"}
    shown = page.get("/cope/", both).text
    assert "Other end" in shown
    assert "Twist -14.0°" in shown


def test_the_dial_is_turned_into_the_angle_between(page: Client) -> None:
    shown = page.get("/cope/", {**TYPED, "angle": "25", "reads": "dial"}).text
    assert "65.0° between, dial 25.0°." in shown


@pytest.mark.parametrize(
    ("wrong", "status", "sentence"),
    [
        ({"angle": "120"}, 200, "120° was measured on the obtuse side"),
        ({"angle": "12"}, 200, "feather edge"),
        ({"angle": "0"}, 422, "0 is not between 0 and 180 degrees"),
        ({"onto": "6"}, 422, "wraps past the mate by 0.17 mm"),
        ({"wall": "9"}, 422, "up to the radius, 3.175"),
        ({"od": "x\0y"}, 422, "is not a length"),
    ],
)
def test_what_is_odd_is_said_and_what_cannot_be_refused(
    page: Client, wrong: dict[str, str], status: int, sentence: str
) -> None:
    shown = page.get("/cope/", {**TYPED, **wrong})
    assert shown.status_code == status
    assert sentence in shown.text
    assert 'value="035 in"' in shown.text or "wall" in wrong


def test_row_60_a_measured_bar_is_kept_for_every_later_sheet(
    helpers_page: Client,
) -> None:
    helpers_page.post("/cope/fit/", {"across": "48.5", "along": "50"}, follow=True)
    fit = PrintFit.objects.get()
    assert (fit.across_ppm, fit.along_ppm) == (1_030_928, 1_000_000)
    refused = helpers_page.post("/cope/fit/", {"across": "97"})
    assert refused.status_code == 422
    assert "97 mm is not 42 to 60 mm" in refused.text


def test_a_viewer_looks_and_measures_nothing(viewers_page: Client) -> None:
    assert "Does the printer" not in viewers_page.get("/cope/", TYPED).text
    assert viewers_page.post("/cope/fit/", {"across": "49"}).status_code == 403
