"""What becomes of pieces that did not come or came wrong is one tap."""

import pytest

from fabshop import words
from fabshop.records.order import Order, Settlement
from tests.factories import OrderFactory, OrderLineFactory, ReceiptFactory

pytestmark = pytest.mark.django_db

SETTLE = "/orders/P14/lines/1/settle/"


@pytest.fixture
def screws(shop):
    """60 ordered, 45 came."""
    line = OrderLineFactory(order=OrderFactory(code="P14"), quantity_milli=60_000)
    ReceiptFactory(line=line, counted_milli=45_000, accepted_milli=45_000)
    return line


@pytest.mark.parametrize("how", ["refunded", "make-it", "coming"])
def test_the_rest_is_settled_by_one_key(client, owner, screws, how):
    client.force_login(owner)
    answer = client.post(SETTLE, {"how": how, "quantity": "15"}, follow=True)
    assert answer.status_code == 200
    assert Settlement.objects.get().how == how


def test_more_than_is_owed_is_refused(client, owner, screws):
    client.force_login(owner)
    answer = client.post(SETTLE, {"how": "refunded", "quantity": "16"})
    assert answer.status_code == 422
    assert "16 cannot be settled; 15 is owed" in answer.text


@pytest.mark.parametrize("quantity", ["", "some", "1.5", "-2"])
def test_a_quantity_that_cannot_be_is_refused(client, owner, screws, quantity):
    client.force_login(owner)
    answer = client.post(SETTLE, {"how": "refunded", "quantity": quantity})
    assert answer.status_code == 422
    assert not Settlement.objects.exists()


def test_a_helper_notes_that_the_rest_is_coming_but_writes_nothing_off(
    client, helper, screws
):
    client.force_login(helper)
    refused = client.post(SETTLE, {"how": "refunded", "quantity": "15"})
    assert refused.status_code == 403
    coming = client.post(SETTLE, {"how": "coming", "quantity": "15"})
    assert coming.status_code == 302


def test_ordered_again_is_a_draft_that_waits_with_me(client, owner, screws):
    client.force_login(owner)
    answer = client.post(SETTLE, {"how": "reordered", "quantity": "15"}, follow=True)
    draft = Order.objects.exclude(code="P14").get()
    assert draft.move == words.Move.ME
    assert f"{draft.code} orders it again" in answer.text


def test_a_word_that_is_none_is_refused(client, owner, screws):
    client.force_login(owner)
    assert client.post(SETTLE, {"how": "lost", "quantity": "15"}).status_code == 422


def test_the_shelf_shows_what_came_wrong_and_why(client, viewer, screws):
    ReceiptFactory(
        line=screws,
        counted_milli=2000,
        accepted_milli=0,
        wrong_milli=2000,
        wrong_why=words.WrongWhy.SIZE,
        note="M3, not M2.5",
    )
    client.force_login(viewer)
    text = client.get("/penalty-shelf/").text
    assert "the size: M3, not M2.5" in text


def test_what_was_booked_by_mistake_is_taken_back(client, helper, screws):
    receipt = screws.receipts.get()
    client.force_login(helper)
    client.post(f"/receipts/{receipt.pk}/take-back/", {})
    assert screws.receipts.filter(kind="taken-back").count() == 1
    again = client.post(f"/receipts/{receipt.pk}/take-back/", {})
    assert again.status_code == 409
