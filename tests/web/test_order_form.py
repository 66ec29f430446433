"""Getting an order in, with its lines, and changing it."""

import pytest

from fabshop import words
from fabshop.records.order import Order
from tests.factories import (
    BuildFactory,
    ComponentFactory,
    OrderFactory,
    OrderLineFactory,
    SupplierFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def firm(shop):
    return SupplierFactory(code="nib", name="Nib & Burr")


def typed(**fields):
    return {
        "code": "P26",
        "supplier": "nib",
        "title": "Air ducts",
        "kind": "cut",
        "line-0-title": "Duct",
        "line-0-quantity": "1",
        "line-0-hand": "L",
        **fields,
    }


def test_an_order_is_kept_with_its_lines_and_is_mine(client, owner, firm):
    ComponentFactory(build=BuildFactory(), code="T31")
    client.force_login(owner)
    answer = client.post(
        "/orders/new/",
        typed(
            **{
                "line-0-component": "T31",
                "line-1-title": "Felt",
                "line-1-quantity": "0,4",
                "line-1-unit": "m2",
                "lead_likely_days": "8",
            }
        ),
    )
    assert answer.url == "/orders/P26/"
    order = Order.objects.get()
    assert order.move == words.Move.ME and order.lead_likely_days == 8
    duct, felt = order.lines.all()
    assert duct.hand == "L" and duct.component.code == "T31"
    assert felt.quantity_milli == 400 and felt.unit == "m2"


def test_row_23_lead_days_in_the_wrong_order_show_all_three(client, owner, firm):
    """Row 23: lead early > likely > late."""
    client.force_login(owner)
    answer = client.post(
        "/orders/new/",
        typed(lead_early_days="9", lead_likely_days="8", lead_late_days="11"),
    )
    assert answer.status_code == 422
    assert "9 / 8 / 11" in answer.text
    assert 'name="line-0-title" value="Duct"' in answer.text
    assert not Order.objects.exists()


def test_every_error_is_said_at_once_and_all_kept(client, owner, firm):
    client.force_login(owner)
    answer = client.post(
        "/orders/new/",
        typed(**{"supplier": "nobody", "title": "", "line-0-quantity": "some"}),
    )
    assert answer.status_code == 422
    assert "“nobody” is no supplier here" in answer.text
    assert "What: nothing is written." in answer.text
    assert "“some” is not a number" in answer.text
    assert 'value="some"' in answer.text


def test_part_of_a_piece_is_refused_on_an_order_too(client, owner, firm):
    client.force_login(owner)
    answer = client.post("/orders/new/", typed(**{"line-0-quantity": "1.5"}))
    assert answer.status_code == 422
    assert "pieces come whole" in answer.text


def test_more_lines_keep_what_is_typed(client, owner, firm):
    client.force_login(owner)
    answer = client.post("/orders/new/", typed(more="1", note="by Friday"))
    assert answer.status_code == 200
    assert 'name="line-2-title"' in answer.text
    assert "by Friday" in answer.text and 'value="Air ducts"' in answer.text


def test_a_double_tap_keeps_one_order(client, owner, firm):
    client.force_login(owner)
    for _ in range(2):
        answer = client.post("/orders/new/", typed(client_id="tap-4"))
        assert answer.status_code == 302
    assert Order.objects.count() == 1


def test_an_order_that_moved_meanwhile_asks_again(client, owner, firm):
    order = OrderFactory(code="P26", supplier=firm, title="Ducts")
    OrderLineFactory(order=order)
    client.force_login(owner)
    fields = {"supplier": "nib", "title": "Ducts L+R", "kind": "cut"}
    first = client.post("/orders/P26/change/", {**fields, "version": order.version})
    assert first.status_code == 302
    late = client.post(
        "/orders/P26/change/", {**fields, "title": "Late", "version": order.version}
    )
    assert late.status_code == 409
    assert 'value="Late"' in late.text


def test_lines_are_added_and_changed(client, owner, firm):
    order = OrderFactory(code="P26", supplier=firm)
    OrderLineFactory(order=order)
    client.force_login(owner)
    client.post("/orders/P26/lines/new/", {"title": "Felt", "quantity": "2"})
    order.refresh_from_db()
    client.post(
        "/orders/P26/lines/2/",
        {"title": "Felt, thick", "quantity": "3", "version": order.version},
    )
    line = order.lines.get(number=2)
    assert (line.title, line.quantity_milli) == ("Felt, thick", 3000)


def test_a_helper_orders_nothing(client, helper, firm):
    client.force_login(helper)
    assert client.post("/orders/new/", typed()).status_code == 403
