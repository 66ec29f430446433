"""Suppliers are kept once, by their name."""

import pytest

from fabshop.records.order import Supplier
from tests.factories import SupplierFactory

pytestmark = pytest.mark.django_db


def test_a_supplier_is_kept_and_leads_to_an_order(client, owner):
    client.force_login(owner)
    answer = client.post("/suppliers/new/", {"name": "Nib & Burr Cutting"})
    assert answer.url == "/orders/new/"
    assert Supplier.objects.get().name == "Nib & Burr Cutting"
    assert "Nib &amp; Burr Cutting" in client.get("/suppliers/").text


def test_the_same_name_twice_is_refused_and_kept(client, owner):
    SupplierFactory(name="Nib")
    client.force_login(owner)
    answer = client.post("/suppliers/new/", {"name": "nib", "note": "by post"})
    assert answer.status_code == 409
    assert "by post" in answer.text


def test_a_viewer_reads_the_list_only(client, viewer):
    SupplierFactory(name="Nib")
    client.force_login(viewer)
    assert "Nib" in client.get("/suppliers/").text
    assert client.get("/suppliers/new/").status_code == 403
