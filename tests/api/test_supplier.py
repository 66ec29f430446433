"""Suppliers by program."""

from __future__ import annotations

from rest_framework.test import APIClient


def test_a_supplier_is_added_once(api: APIClient) -> None:
    first = api.post("/api/suppliers/", {"name": "Nib & Burr"}, format="json")
    assert first.status_code == 201, first.content
    assert first.json()["code"]
    again = api.post("/api/suppliers/", {"name": "Nib & Burr"}, format="json")
    assert again.status_code in (409, 422)
    assert api.get("/api/suppliers/").json()["count"] == 1
