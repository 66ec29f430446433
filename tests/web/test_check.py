"""Readings on the page: judged, decided with three keys, kept."""

from __future__ import annotations

import pytest
from django.test import Client

from fabshop import words
from fabshop.records.drawing import MeasuredCheck
from fabshop.records.order import Order
from tests.factories import OrderFactory, OrderLineFactory

pytestmark = pytest.mark.django_db
HERE = "/orders/P71/lines/1/checks/"
READING = {
    "label": "width", "nominal": "40", "reading": "40,4", "tolerance": "iso-2768-m",
}  # fmt: skip


@pytest.fixture
def order(shop: object) -> Order:
    made: Order = OrderFactory(code="P71", kind=words.OrderKind.CUT)
    OrderLineFactory(order=made, number=1, title="Plate")
    return made


def test_a_reading_is_judged_and_asks_what_becomes_of_it(
    page: Client, order: Order
) -> None:
    assert "Nothing was measured yet." in page.get(HERE).text
    assert page.post(HERE, READING).status_code == 302
    shown = page.get(HERE).text
    assert "width 40.4 mm, drawn 40 ±0.3 mm: too big by 0.1 mm" in shown
    assert "1 reading waits for you to decide." in shown
    assert "Live with it" in shown


def test_living_with_it_wants_its_reason(page: Client, order: Order) -> None:
    page.post(HERE, READING)
    where = f"/checks/{MeasuredCheck.objects.get().pk}/decide/"
    answer = page.post(where, {"how": "live-with-it"})
    assert (answer.status_code, "say why" in answer.text) == (422, True)
    page.post(where, {"how": "live-with-it", "reason": "slotted"})
    shown = page.get(HERE).text
    assert "Everything that was measured is decided." in shown
    assert "slotted" in shown


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"nominal": ""}, "Drawn: nothing is written."),
        ({"reading": "wide"}, "wide"),
        ({"label": ""}, "What"),
        ({"tolerance": "iso-9013-1"}, "say how thick it is"),
        ({"tolerance": "limits"}, "how far below and above"),
        ({"nominal": "0.3", "reading": "0.3"}, "says nothing for 0.3 mm"),
    ],
)
def test_what_cannot_be_judged_is_said_at_the_form_and_kept(
    page: Client, order: Order, change: dict[str, str], says: str
) -> None:
    answer = page.post(HERE, READING | change)
    assert answer.status_code == 422
    assert says in answer.text
    assert not MeasuredCheck.objects.exists()


def test_limits_of_my_own_take_the_lower_one_without_a_sign(
    page: Client, order: Order
) -> None:
    page.post(HERE, READING | {"tolerance": "limits", "lower": "0.1", "upper": "0.5"})
    check = MeasuredCheck.objects.get()
    assert (check.lower_um, check.upper_um, check.verdict) == (-100, 500, "within")


def test_a_helper_measures_and_a_viewer_reads(
    helpers_page: Client, viewers_page: Client, order: Order
) -> None:
    assert helpers_page.post(HERE, READING).status_code == 302
    assert viewers_page.get(HERE).status_code == 200
    assert viewers_page.post(HERE, READING).status_code == 403
