"""The description is valid, whole, and what the API does agrees with it."""

from __future__ import annotations

from typing import Any

import pytest
from django.core.management import call_command
from rest_framework.test import APIClient

from fabshop.api.schema import with_problems


def test_the_description_is_valid_without_warnings(tmp_path: Any) -> None:
    call_command(
        "spectacular", validate=True, fail_on_warn=True, file=str(tmp_path / "s.yml")
    )


def test_every_operation_may_answer_with_a_problem() -> None:
    told = with_problems(
        {"paths": {"/x/": {"post": {"responses": {}}, "get": {"responses": {}}}}}
    )
    operation = told["paths"]["/x/"]["post"]
    assert "application/problem+json" in operation["responses"]["422"]["content"]
    assert operation["parameters"][0]["name"] == "Idempotency-Key"
    assert "parameters" not in told["paths"]["/x/"]["get"]


@pytest.mark.django_db
def test_the_description_is_served_to_the_signed_in(api: APIClient) -> None:
    answer = api.get("/api/schema/", HTTP_ACCEPT="application/vnd.oai.openapi+json")
    assert answer.status_code == 200
    assert "/api/readiness/" in answer.content.decode()
    assert APIClient().get("/api/schema/").status_code == 401
