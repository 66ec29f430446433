"""Joints by program: the same refusals as on the phone, with their codes."""

from __future__ import annotations

from typing import Any

import pytest
from rest_framework.test import APIClient

from fabshop.records.joint import Joint
from fabshop.records.shop import Person
from fabshop.words import PrepStage
from tests.actions.joint.prepared import tick_all
from tests.factories import MOMENT, BuildFactory, JointFactory, TaskFactory

HOOP: dict[str, Any] = {
    "code": "J17",
    "build": "gannet",
    "name": "Cab hoop L foot",
    "material": "304",
    "cut_od_um": 8000,
    "cut_wall_um": 1000,
    "onto_od_um": 8000,
    "angle_mdeg": 78_400,
}


def post(api: APIClient, path: str, said: dict[str, Any], key: str = "") -> Any:
    headers = {"Idempotency-Key": key} if key else {}
    return api.post(f"/api/joints/{path}", said, format="json", headers=headers)


def test_a_joint_is_told_once_and_read_with_its_checklist(api: APIClient) -> None:
    BuildFactory(slug="gannet")
    for _ in range(2):
        answer = post(api, "", HOOP, key="one")
        assert answer.status_code == 201, answer.content
    told = api.get("/api/joints/J17/").json()
    assert (told["state"], told["metal"]) == ("planned", "stainless")
    assert told["steps"][0]["is_stop"] is True
    assert "source" in told["steps"][0]
    listed = api.get("/api/joints/?build__slug=gannet&state=planned").json()
    assert listed["count"] == 1
    wrong = post(api, "", HOOP | {"code": "J18", "angle_mdeg": 200_000})
    assert wrong.status_code == 422
    assert wrong.json()["errors"][0]["field"] == "angle_mdeg"


def test_a_stop_step_and_a_helper_are_refused_by_name(
    api: APIClient, helpers_api: APIClient, owner: Person
) -> None:
    joint = JointFactory(code="J17")
    refused = post(helpers_api, "J17/state/", {"state": "welded"})
    assert (refused.status_code, refused.json()["code"]) == (409, "stop-open")
    ticked = post(helpers_api, "J17/step/", {"number": 1})
    assert ticked.json()["steps"][0]["is_done"] is True
    tick_all(owner, joint, MOMENT, until=PrepStage.LOOK)
    assert post(helpers_api, "J17/state/", {"state": "welded"}).status_code == 200
    uncalled = post(api, "J17/accept/", {})
    assert uncalled.json()["code"] == "not-called"
    asked = post(helpers_api, "J17/colour/", {"colour": "gold"})
    assert (asked.status_code, asked.json()["code"]) == (409, "say-verdict")
    post(helpers_api, "J17/colour/", {"colour": "gold", "verdict": "accept"})
    assert post(helpers_api, "J17/accept/", {}).status_code == 403
    assert post(api, "J17/accept/", {}).json()["state"] == "accepted"
    rejected = post(helpers_api, "J17/reject/", {"reason": "crack"})
    assert rejected.json()["reworks"] == 1


def test_painting_over_a_weld_is_refused_by_the_api_too(api: APIClient) -> None:
    joint = JointFactory(code="J07", state="welded")
    TaskFactory(code="W36", build=joint.build)
    over = api.put("/api/joints/J07/over/", {"paints": ["W36"]}, format="json")
    assert over.status_code == 200
    for verb in ("start", "done"):
        refused = api.post(f"/api/tasks/W36/{verb}/", {}, format="json")
        assert refused.status_code == 409
        assert refused.json()["code"] == "joint-not-accepted"
        assert "J07 (welded)" in refused.json()["detail"]
    stripped = post(api, "J07/strip/", {"task": "W36", "reason": "x"})
    assert stripped.status_code == 409


def test_lots_twins_and_changes(api: APIClient) -> None:
    joint = JointFactory(code="J21", twist_mdeg=9000, cut_heat_lot="")
    JointFactory(code="J22", twist_mdeg=9000, build=joint.build)
    assert post(api, "J21/lots/", {"cut_heat_lot": "7K139"}).status_code == 200
    assert post(api, "J21/twin/", {"twin": "J22"}).status_code == 409
    mirrored = post(api, "J21/twin/", {"twin": "J22", "mirror": True})
    assert mirrored.json()["twin"] == "J22"
    changed = api.patch("/api/joints/J21/", {"gas_mbar": 3000}, format="json")
    assert changed.json()["gas_mbar"] == 3000
    assert Joint.objects.get(code="J22").twist_mdeg == -9000


def test_a_joint_nobody_knows_is_a_404(api: APIClient) -> None:
    assert api.get("/api/joints/J99/").status_code == 404


@pytest.mark.parametrize("verb", ["step", "state", "colour", "accept", "reject"])
def test_fields_there_are_none_of_are_refused(api: APIClient, verb: str) -> None:
    JointFactory(code="J17")
    assert post(api, f"J17/{verb}/", {"sparkle": 1}).status_code == 400


def test_row_37_an_angle_that_the_twin_denies_is_asked_about(api: APIClient) -> None:
    left = JointFactory(code="J21", angle_mdeg=65_000)
    right = JointFactory(code="J22", angle_mdeg=65_000, build=left.build, twin=left)
    left.twin = right
    left.save()
    at = "/api/joints/J22/"
    asked = api.patch(at, {"angle_mdeg": 25_000}, format="json")
    assert (asked.status_code, asked.json()["code"]) == (409, "angle-or-dial")
    sure = {"angle_mdeg": 25_000, "confirm": True}
    assert api.patch(at, sure, format="json").json()["angle_mdeg"] == 25_000
