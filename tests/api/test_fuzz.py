"""Whatever is sent, the API answers honestly: never a fault, always its one shape.

The requests are made from the API's own description by schemathesis.
"""

from __future__ import annotations

import json
from typing import Any
from urllib.parse import quote, urlencode

import pytest
import schemathesis
from django.core.management import call_command
from hypothesis import HealthCheck, given, settings
from rest_framework.test import APIClient

from fabshop.api.problem import CONTENT_TYPE

EXAMPLES = 3
NO_JSON = {"/api/photos/"}  # takes a file; test_photo tries it
# These reckon: once is enough.
SLOW = {
    ("POST", "/api/plans/"),
    ("POST", "/api/cut-lists/"),
    ("POST", "/api/reckon/{kind}/"),
}


@pytest.fixture
def description(tmp_path: Any) -> Any:
    file = tmp_path / "schema.json"
    call_command("spectacular", format="openapi-json", file=str(file))
    return schemathesis.openapi.from_dict(json.loads(file.read_text()))


def test_no_request_is_a_fault(description: Any, demo_api: APIClient) -> None:
    demo_api.raise_request_exception = False
    tried = 0
    for found in description.get_all_operations():
        operation = found.ok()
        if operation.path in NO_JSON:
            continue
        slow = (operation.method.upper(), operation.path) in SLOW
        few = settings(
            max_examples=1 if slow else EXAMPLES,
            deadline=None,
            derandomize=True,
            database=None,
            suppress_health_check=list(HealthCheck),
        )

        @few
        @given(case=operation.as_strategy())
        def answered(case: Any) -> None:
            answer = asked(demo_api, case)
            assert answer.status_code < 500, (case.method, case.path, case.body)
            if answer.status_code >= 400:
                assert answer["Content-Type"] == CONTENT_TYPE, (case.method, case.path)

        answered()
        tried += 1
    assert tried > 70


def asked(api: APIClient, case: Any) -> Any:
    """The case as a request of the test client, which stays in this transaction."""
    path = quote(case.formatted_path, safe="/%")
    query = urlencode(case.query or {}, doseq=True, errors="ignore")
    has_body = isinstance(case.body, dict | list | str | int | float | bool)
    return api.generic(
        case.method,
        path,
        json.dumps(case.body) if has_body else "",
        content_type="application/json",
        QUERY_STRING=query,
    )
