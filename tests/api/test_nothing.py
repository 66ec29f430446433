"""An address that is not there is a problem like any other."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient


@pytest.mark.parametrize("method", ["get", "post", "delete"])
def test_an_unknown_address_is_a_problem(api: APIClient, method: str) -> None:
    answer = getattr(api, method)("/api/builds/no such slug/")
    assert answer.status_code == 404
    assert answer["Content-Type"] == "application/problem+json"
    assert "/api/schema/" in answer.json()["detail"]
