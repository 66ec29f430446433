"""Suppliers and orders come out of a table, one row a line."""

from datetime import date

import pytest

from fabshop.records.order import Order, Supplier
from tests.factories import SupplierFactory

pytestmark = pytest.mark.django_db


def test_suppliers_and_orders_with_several_lines(take, shop):
    take("suppliers", "name,contact\nNib & Burr,by post\n", accept="all")
    assert Supplier.objects.get().contact == "by post"
    table = (
        "code,supplier,title,kind,line,quantity,hand,lead_likely_days,sent_on,eta_on\n"
        "P02,Nib & Burr,Air ducts,cut,Duct L,1,L,8,2027-08-24,2027-09-02\n"
        "P02,Nib & Burr,Air ducts,cut,Duct R,1,R,8,2027-08-24,2027-09-02\n"
        "P10,nib & burr,Flax,bought,,0.4,,7,,\n"
    )
    taken = take("orders", table.replace("0.4", '"0,4"'), accept="all")
    assert [cell.message for cell in taken.bad] == [
        "Line 1: pieces come whole; use m, m², g or ml for a part of one."
    ]
    table = table.replace("Flax,bought,,0.4", "Flax,bought,,4")
    assert take("orders", table, accept="all").is_written
    order = Order.objects.get(code="P02")
    assert [line.hand for line in order.lines.all()] == ["L", "R"]
    assert order.sent_on == date(2027, 8, 24)
    assert order.promises.get().eta_on == date(2027, 9, 2)


def test_an_order_is_not_taken_without_one_of_its_lines(take, shop):
    SupplierFactory(name="Nib")
    table = (
        "code,supplier,title,quantity\nP02,Nib,Ducts,1\nP02,Nib,Ducts,some\n"
        "P03,Nib,Felt,1\n"
    )
    taken = take("orders", table, accept="good")
    assert [cell.row for cell in taken.bad] == [2, 3]
    assert taken.bad[0].message == "goes with row 3, which is bad"
    assert list(Order.objects.values_list("code", flat=True)) == ["P03"]


def test_row_19_an_eta_before_the_sent_day_is_told(take, shop):
    """Row 19 in a table."""
    SupplierFactory(name="Nib")
    table = (
        "code,supplier,title,sent_on,eta_on\nP1,Nib,Ducts,2027-08-24,2027-08-20\n"
        "P2,Nib,Felt,,2027-09-20\nP3,nobody,Kit,,\n"
    )
    bad = take("orders", table).bad
    assert [(cell.row, cell.column) for cell in bad] == [
        (2, "eta_on"),
        (2, "sent_on"),
        (3, "eta_on"),
        (4, "supplier"),
    ]


def test_row_23_lead_days_in_the_wrong_order_are_told(take, shop):
    """Row 23 in a table."""
    SupplierFactory(name="Nib")
    table = (
        "code,supplier,title,lead_early_days,lead_likely_days,lead_late_days\n"
        "P1,Nib,Ducts,9,8,11\n"
    )
    (cell,) = take("orders", table).bad
    assert "9 / 8 / 11" in cell.message
