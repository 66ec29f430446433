"""The rack by program: put there, cut, counted, held; refusals in the one shape."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.shop import Shop
from fabshop.records.stock import Cut
from tests.factories import PieceFactory, TaskFactory

TUBE = {
    "code": "M21",
    "form": "tube",
    "material": "304",
    "length": "1000",
    "od": "8",
    "wall": "1",
    "heat_lot": "7K214",
}


def put(api: APIClient, **changed: str) -> dict[str, object]:
    answer = api.post("/api/pieces/", TUBE | changed, format="json")
    assert answer.status_code == 201, answer.content
    told: dict[str, object] = answer.json()
    return told


def test_a_piece_is_put_on_the_rack_and_weighed(api: APIClient) -> None:
    told = put(api)
    assert (told["section"], told["left"], told["mass_g"]) == ("8 × 1", 1000, 175.929)
    wide = TUBE | {"code": "M22", "wall": "4.5"}
    answer = api.post("/api/pieces/", wide, format="json")
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == "wall"


def test_a_cut_is_made_once_and_one_that_does_not_fit_is_refused(
    api: APIClient,
) -> None:
    put(api)
    for _ in range(2):
        answer = api.post(
            "/api/pieces/M21/cut/",
            {"length": "218"},
            format="json",
            headers={"Idempotency-Key": "one"},
        )
        assert answer.status_code == 201
        assert answer.json()["left"] == 780.8
    assert Cut.objects.count() == 1
    answer = api.post("/api/pieces/M21/cut/", {"length": "900"}, format="json")
    assert (answer.status_code, answer.json()["code"]) == (409, "too-short")
    answer = api.post(
        "/api/pieces/M21/cut/", {"length": "900", "made_apart": True}, format="json"
    )
    assert answer.json()["left"] == -120.4


def test_a_length_is_held_and_let_go(api: APIClient) -> None:
    put(api)
    TaskFactory(code="W41")
    held = api.post("/api/pieces/M21/hold/", {"task": "W41"}, format="json")
    assert held.json()["held"] == [{"task": "W41", "length": 1000}]
    assert held.json()["free"] == 0
    gone = api.post("/api/pieces/M21/let-go/", {"task": "W41"}, format="json")
    assert gone.json()["held"] == []
    again = api.post("/api/pieces/M21/let-go/", {"task": "W41"}, format="json")
    assert again.status_code == 404


def test_a_count_needs_a_reason_where_it_differs(api: APIClient) -> None:
    put(api)
    answer = api.post("/api/pieces/M21/count/", {"length": "990"}, format="json")
    assert answer.status_code == 422
    answer = api.post(
        "/api/pieces/M21/count/", {"length": "990", "reason": "bent"}, format="json"
    )
    assert answer.json()["left"] == 990


def test_a_piece_is_changed_and_goes(api: APIClient, helpers_api: APIClient) -> None:
    put(api)
    told = helpers_api.patch("/api/pieces/M21/", {"place": "tray"}, format="json")
    assert told.json()["place"] == "tray"
    refused = helpers_api.patch("/api/pieces/M21/", {"heat_lot": "x"}, format="json")
    assert refused.status_code == 403
    gone = api.post("/api/pieces/M21/gone/", {"why": "used up"}, format="json")
    assert gone.json()["is_retired"]
    assert api.get("/api/pieces/").json() == []


def test_the_rack_is_filtered_and_asked_for_candidates(
    demo_api: APIClient, demo: Shop
) -> None:
    tray = demo_api.get("/api/pieces/", {"place": "drop tray"}).json()
    assert [piece["code"] for piece in tray] == [
        *("M03", "M04", "M05", "M10", "M11", "M12"),
    ]
    asked = {"length": "218", "material": "304", "section": "8 × 1"}
    found = demo_api.post("/api/pieces/candidates/", asked, format="json").json()
    assert found == [{"piece": "M10", "left": 347, "after": 127.8}]


def test_materials_name_their_sources(api: APIClient) -> None:
    own = {
        "code": "oak",
        "name": "Oak",
        "family": "wood",
        "density_g_cm3": "0.72",
        "source": "weighed",
    }
    assert api.post("/api/materials/", own, format="json").status_code == 201
    rows = {row["code"]: row for row in api.get("/api/materials/").json()}
    assert rows["oak"]["is_own"] and not rows["304"]["is_own"]
    assert all(row["source"] for row in rows.values())


def test_what_is_not_there_is_404(api: APIClient) -> None:
    PieceFactory()
    assert api.get("/api/pieces/M99/").status_code == 404
