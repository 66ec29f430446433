"""Cut lists by program: wanted, asked, kept, booked mark by mark."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.shop import Shop
from tests.factories import PieceFactory

WISH = {
    "code": "L05",
    "title": "cross bar",
    "material": "304",
    "form": "tube",
    "od": "8",
    "wall": "1",
    "length": "212",
    "quantity": 2,
    "joints": "J23 J24",
    "is_frame": True,
}


def test_a_list_is_asked_kept_and_booked(api: APIClient, shop: Shop) -> None:
    PieceFactory(code="M08")
    answer = api.post("/api/wishes/", WISH, format="json")
    assert answer.status_code == 201, answer.content
    assert answer.json()[0]["left"] == 2
    made = api.post("/api/cut-lists/")
    assert made.status_code == 201, made.content
    (bar,) = made.json()["answer"]["groups"][0]["bars"]
    assert [cut["mark"] for cut in bar["cuts"]] == ["L05a", "L05b"]
    assert [cut["joints"] for cut in bar["cuts"]] == [["J23"], ["J24"]]
    cut = api.post("/api/cut-lists/1/L05a/cut/", {"length": "213.5"}, format="json")
    assert cut.json()["left"] == 785.3
    api.post("/api/cut-lists/1/L05b/cut/")
    assert api.get("/api/cut-lists/1/").json()["cut"] == ["L05a", "L05b"]
    assert api.get("/api/wishes/").json() == []
    again = api.post("/api/cut-lists/1/L05b/cut/")
    assert (again.status_code, again.json()["code"]) == (409, "is-cut")
    assert len(api.get("/api/cut-lists/").json()) == 1


def test_nothing_wanted_is_a_clash(api: APIClient, shop: Shop) -> None:
    api.post("/api/wishes/", WISH, format="json")
    assert api.post("/api/wishes/L05/give-up/").json() == []
    answer = api.post("/api/cut-lists/")
    assert (answer.status_code, answer.json()["code"]) == (409, "nothing-wanted")


def test_a_sheet_is_cut_as_drawn(api: APIClient, shop: Shop) -> None:
    flat = {"form": "sheet", "od_um": None, "wall_um": None, "thickness_um": 1500}
    PieceFactory(code="M16", length_um=400_000, width_um=300_000, **flat)
    wish = {
        "code": "L10",
        "title": "plate",
        "material": "304",
        "form": "sheet",
        "thickness": "1.5",
        "length": "90",
        "width": "140",
    }
    assert api.post("/api/wishes/", wish, format="json").status_code == 201
    made = api.post("/api/cut-lists/").json()
    assert made["answer"]["sheet_groups"][0]["sheets"][0]["piece"] == "M16"
    said = {"drop_code": "M16B"}
    cut = api.post("/api/cut-lists/1/sheets/M16/", said, format="json")
    assert cut.status_code == 201 and cut.json()["is_retired"]
    assert api.get("/api/pieces/M16B/").json()["left"] == 308.8
