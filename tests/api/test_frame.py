"""Frames by program: drawn, asked about, mirrored, reckoned."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from fabshop.records.frame import PrintFit, Tube
from tests.factories import BuildFactory, FrameFactory, MaterialFactory
from tests.paper.a_frame import a_frame


def test_a_frame_is_drawn_from_nothing(api: APIClient) -> None:
    BuildFactory(slug="wren")
    made = api.post(
        "/api/frames/",
        {"build": "wren", "code": "mast", "name": "Mast"},
        format="json",
    )
    assert made.status_code == 201, made.content
    for code, z in (("A", 0), ("B", 1_000_000)):
        place = {"x_um": 0, "y_um": 0, "z_um": z}
        api.put(f"/api/frames/mast/nodes/{code}/", place, format="json")
    tube = api.put(
        "/api/frames/mast/tubes/post/",
        {
            "start": "A",
            "end": "B",
            "od_um": 38_100,
            "wall_um": 900,
            "material": "ti-9",
        },
        format="json",
    )
    # Grade 9 titanium of 38.1 × 0.9 weighs 471.21 g to the metre.
    assert tube.json()["mass_g"] == pytest.approx(471.21, abs=0.01)
    shown = api.get("/api/frames/mast/").json()
    assert shown["centre_mm"] == [0, 0, 500]
    assert [node["code"] for node in shown["nodes"]] == ["A", "B"]
    assert api.get("/api/frames/?build__slug=wren").json()["count"] == 1


def test_the_reckoned_tube_says_angle_dial_and_twist(api: APIClient) -> None:
    a_frame()
    brace = api.get("/api/frames/cradle/tubes/brace/").json()
    assert brace["ends"][0]["angle_deg"] == pytest.approx(30.9638, abs=1e-4)
    assert brace["ends"][0]["dial_deg"] == pytest.approx(59.0362, abs=1e-4)
    assert brace["twist_deg"] == 0
    assert api.get("/api/frames/cradle/tubes/mast/").status_code == 404
    cuts = api.get("/api/frames/cradle/cuts/").json()
    assert [cut["mark"] for cut in cuts][0] == "rail"
    assert cuts[-1]["ends"][0]["onto"] == "rail"


def test_a_rename_and_who_may_not(api: APIClient, helpers_api: APIClient) -> None:
    a_frame()
    at = "/api/frames/cradle/"
    assert api.patch(at, {"name": "Hull"}, format="json").json()["name"] == "Hull"
    assert helpers_api.patch(at, {"name": "x"}, format="json").status_code == 403


def test_a_measured_bar_is_kept_once_for_one_key(helpers_api: APIClient) -> None:
    body = {"across_um": 48_500}
    for _ in range(2):
        kept = helpers_api.post(
            "/api/print-fit/", body, format="json", headers={"Idempotency-Key": "k"}
        )
        assert kept.json()["across_ppm"] == 1_030_928
    assert PrintFit.objects.count() == 1
    assert helpers_api.get("/api/print-fit/").json()["count"] == 1


def test_lines_are_tried_and_then_drawn(api: APIClient) -> None:
    FrameFactory(code="mast")
    body = {
        "lines": [[0, 0, 0, 100, 0, 0], [50, 0.03, 0, 60, 0, 90]],
        "tolerance_um": 100,
        "od_um": 8_000,
        "wall_um": 900,
    }
    at = "/api/frames/mast/lines/"
    tried = api.post(at, body, format="json").json()
    assert (len(tried["nodes"]), tried["marks"]) == (4, ["T1", "T2"])
    assert not tried["is_written"]
    drawn = api.post(at, {**body, "accept": True}, format="json").json()
    assert drawn["is_written"]
    tube = api.get("/api/frames/mast/tubes/T2/").json()
    assert tube["ends"][0]["onto"] == "T1"
    assert api.post(at, body, format="json").status_code == 409


def test_its_tubes_go_onto_the_cut_list(api: APIClient) -> None:
    a_frame()
    refused = api.post("/api/frames/cradle/cuts/")
    assert refused.json()["errors"][0]["field"] == "material"
    Tube.objects.update(material=MaterialFactory(code="ti-9").code)
    made = api.post("/api/frames/cradle/cuts/")
    assert made.status_code == 201, made.content
    assert len(made.json()["wishes"]) == 3
