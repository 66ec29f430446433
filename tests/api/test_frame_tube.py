"""Tubes of a frame by program: drawn, asked about, mirrored, taken out."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from fabshop.records.frame import Frame
from tests.paper.a_frame import a_frame

BRACE = {"start": "E", "end": "D", "od_um": 6_000, "wall_um": 900}


def test_the_dial_typed_for_the_angle_is_a_409_with_its_code(api: APIClient) -> None:
    a_frame()
    end = {"onto": "rail", "typed_mdeg": 59_000}
    body = {**BRACE, "end": "F", "start_end": end}
    at = "/api/frames/cradle/tubes/stay/"
    asked = api.put(at, body, format="json")
    assert asked.status_code == 409
    assert asked.json()["code"] == "angle-or-dial"
    assert asked.json()["errors"][0]["field"] == "start_angle"
    body["start_end"] = {**end, "is_dial": True}
    assert api.put(at, body, format="json").status_code == 200
    told = api.put(at, {**body, "start_end": end, "confirm": True}, format="json")
    assert "Angle between, or dial?" in told.json()["notes"][0]


def test_a_tube_is_mirrored_and_what_is_free_taken_out(api: APIClient) -> None:
    a_frame()
    Frame.objects.get().nodes.filter(code="E").update(y_um=25_000)
    made = api.post(
        "/api/frames/cradle/tubes/brace/mirror/", {"mark": "brace-R"}, format="json"
    )
    assert made.status_code == 201, made.content
    assert made.json()["twin"] == "brace"
    assert api.delete("/api/frames/cradle/tubes/rail/").status_code == 409
    gone = api.delete("/api/frames/cradle/tubes/brace-R/")
    assert gone.json() == {"marks": ["brace", "post", "rail"]}
    assert api.delete("/api/frames/cradle/nodes/A/").status_code == 409
    assert api.delete("/api/frames/cradle/nodes/E-m/").status_code == 200


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"od_um": 0}, "od_um"),
        ({"wall_um": 4_000}, "wall"),
        ({"start": "Q"}, "start"),
        ({"bends": [{"node": "Q", "radius_um": 9_000}]}, "bends"),
        ({"colour": "red"}, "colour"),
    ],
)
def test_what_cannot_be_drawn_names_its_field(
    api: APIClient, more: dict[str, object], field: str
) -> None:
    a_frame()
    answer = api.put("/api/frames/cradle/tubes/stay/", {**BRACE, **more}, format="json")
    assert answer.status_code in (400, 422)
    assert answer.json()["errors"][0]["field"] == field
