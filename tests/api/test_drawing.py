"""Drawings and readings over HTTP: put, looked up, judged, decided."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from fabshop import words
from fabshop.records.drawing import Drawing, MeasuredCheck
from fabshop.records.order import Order
from tests.actions.drawing.conftest import part
from tests.factories import OrderFactory, OrderLineFactory

pytestmark = pytest.mark.django_db
LINE = "/api/orders/P72/lines/1"


@pytest.fixture
def order(shop: object, settings: Any, tmp_path: Path) -> Order:
    settings.MEDIA_ROOT = tmp_path
    made: Order = OrderFactory(code="P72", kind=words.OrderKind.CUT, sent_on=None)
    OrderLineFactory(order=made, number=1, title="Plate", hand="L")
    OrderLineFactory(order=made, number=2, title="Plate", hand="R")
    return made


def file(content: bytes) -> dict[str, Any]:
    return {"file": SimpleUploadedFile("plate.dxf", content)}


def test_a_drawing_is_put_once_under_one_key_and_listed(api: Any, order: Order) -> None:
    content, key = part(), {"Idempotency-Key": "d1"}
    where = f"{LINE}/drawings/"
    first = api.post(where, file(content), format="multipart", headers=key)
    assert first.status_code == 201
    assert first.json()["read"]["area_mm2"] == pytest.approx(1800)
    again = api.post(where, file(content), format="multipart", headers=key)
    assert again.json() == first.json()
    assert Drawing.objects.count() == 1
    listed = api.get("/api/drawings/?line__order__code=P72").json()
    assert [one["revision"] for one in listed["results"]] == ["A"]


def test_a_hostile_drawing_is_a_problem_with_its_field(api: Any, order: Order) -> None:
    bomb = b"0\nSECTION\n" + b"0\nPOINT\n" * 400_000
    answer = api.post(f"{LINE}/drawings/", file(bomb), format="multipart")
    assert answer.status_code == 413
    assert answer.json()["errors"][0]["field"] == "file"


def test_two_identical_hands_are_asked_about_before_sent(
    api: Any, order: Order
) -> None:
    content = part()
    for number in (1, 2):
        where = f"/api/orders/P72/lines/{number}/drawings/"
        api.post(where, file(content), format="multipart")
    asked = api.post("/api/orders/P72/sent/", {}, format="json")
    assert (asked.status_code, asked.json()["code"]) == (409, "drawing-doubtful")
    sent = api.post("/api/orders/P72/sent/", {"confirm": True}, format="json")
    assert sent.status_code == 200


def test_what_it_is_cut_of_and_where_it_goes(api: Any, order: Order) -> None:
    cut = {"material": "5754", "thickness_um": 800}
    told = api.post(f"{LINE}/cut/", cut, format="json").json()
    assert told["lines"][0]["material"] == "5754"
    nobody = api.post(f"{LINE}/cut/", {"material": "unobtainium"}, format="json")
    assert nobody.status_code == 422
    assert api.post("/api/orders/P72/event/", {}, format="json").json()["to_event"]


def test_a_reading_is_judged_decided_and_listed(api: Any, order: Order) -> None:
    reading = {"label": "width", "nominal_um": 40_000, "reading_um": 40_400}
    check = api.post(f"{LINE}/checks/", reading, format="json").json()
    assert check["verdict"] == "too-big"
    where = f"/api/checks/{MeasuredCheck.objects.get().pk}/decide/"
    refused = api.post(where, {"how": "live-with-it"}, format="json")
    assert (refused.status_code, refused.json()["errors"][0]["field"]) == (
        422,
        "reason",
    )
    done = api.post(where, {"how": "live-with-it", "reason": "slot"}, format="json")
    assert done.json()["decisions"][0]["how"] == "live-with-it"
    listed = api.get("/api/checks/?verdict=too-big").json()
    assert len(listed["results"]) == 1
