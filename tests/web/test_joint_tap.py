"""The taps of a slip, and the slip that comes back with what was refused."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from django.test import Client

from fabshop.records.joint import Joint, PrepTick
from fabshop.records.log import Draft
from fabshop.records.task import Task
from fabshop.words import PrepStage
from tests.actions.joint.prepared import tick_all, welded
from tests.factories import MOMENT, JointCoverFactory, JointFactory, TaskFactory


@pytest.fixture
def joint(db: None) -> Joint:
    return JointFactory(code="J17")


def state() -> str:
    return Joint.objects.get(code="J17").state


def test_one_tap_does_a_step_and_twice_is_once(
    helpers_page: Client, joint: Joint
) -> None:
    for _ in range(2):
        said = {"number": "1", "client_id": "tap-1"}
        answer = helpers_page.post("/joints/J17/step/", said, follow=True)
        assert "Fri 3 Sep 06:45, Hal" in answer.text
    assert PrepTick.objects.count() == 1
    helpers_page.post("/joints/J17/step/", {"number": "1", "do": "not"})
    assert not PrepTick.objects.last().is_done  # type: ignore[union-attr]


def test_a_purge_shows_when_it_ends_without_any_script(
    helpers_page: Client, joint: Joint
) -> None:
    refused = helpers_page.post("/joints/J17/step/", {"number": "9"})
    assert refused.status_code == 422
    assert "how many minutes" in refused.text
    said = {"number": "9", "minutes": "4"}
    answer = helpers_page.post("/joints/J17/step/", said, follow=True)
    assert "until 06:49" in answer.text
    assert 'data-until="2027-09-03T' in answer.text


def test_a_figure_is_kept_or_refused_with_what_was_seen(
    helpers_page: Client, joint: Joint
) -> None:
    refused = helpers_page.post("/joints/J17/step/", {"number": "2", "value": "wide"})
    assert refused.status_code == 422
    assert "“wide” is not a figure" in refused.text
    said = {"number": "2", "value": "0,3"}
    assert "0.3 mm" in helpers_page.post("/joints/J17/step/", said, follow=True).text


def test_a_stop_step_is_named_and_nothing_moved(
    helpers_page: Client, joint: Joint
) -> None:
    answer = helpers_page.post("/joints/J17/state/", {"state": "tacked"})
    assert answer.status_code == 409
    assert "4 stop steps open" in answer.text
    assert state() == "planned"
    assert Draft.objects.count() == 1


def test_welded_offers_the_twin_next(page: Client, joint: Joint, owner: Any) -> None:
    twin = JointFactory(code="J18", name="R foot", build=joint.build, twin=joint)
    joint.twin = twin
    joint.save()
    tick_all(owner, joint, MOMENT, until=PrepStage.WELD)
    answer = page.post("/joints/J17/state/", {"state": "welded"}, follow=True)
    assert "Next: its twin J18 R foot." in answer.text
    assert state() == "welded"


def test_stale_cleaning_asks_the_owner_for_a_reason(
    page: Client, joint: Joint, owner: Any, frozen: Any
) -> None:
    tick_all(owner, joint, MOMENT - timedelta(hours=9), until=PrepStage.WELD)
    assert "too long ago, clean it again" in page.get("/joints/J17/").text
    asked = page.post("/joints/J17/state/", {"state": "welded"})
    assert asked.status_code == 409
    assert "go on with a reason" in asked.text
    said = {"state": "welded", "reason": "kept bagged"}
    page.post("/joints/J17/state/", said)
    assert state() == "welded"


def test_a_colour_without_a_table_asks_for_the_verdict(
    page: Client, joint: Joint, owner: Any
) -> None:
    welded(owner, joint, MOMENT)
    asked = page.post("/joints/J17/colour/", {"colour": "gold"})
    assert asked.status_code == 409
    assert 'name="colour" value="gold"' in asked.text
    said = {"colour": "gold", "verdict": "accept"}
    answer = page.post("/joints/J17/colour/", said, follow=True)
    assert "Colour gold, dark straw: accept." in answer.text


def test_a_rejected_colour_says_the_rework_and_the_twin(
    page: Client, owner: Any
) -> None:
    joint = JointFactory(code="J17", metal="titanium", material="ti-9")
    twin = JointFactory(code="J18", state="accepted", build=joint.build, twin=joint)
    joint.twin = twin
    joint.save()
    welded(owner, joint, MOMENT)
    answer = page.post("/joints/J17/colour/", {"colour": "blue"}, follow=True)
    assert "J17 is rework 1. Look at its twin J18 Hoop foot again." in answer.text
    assert "rework 1, colour blue" in answer.text


def test_paint_over_it_makes_the_call_a_409(page: Client, joint: Joint) -> None:
    paint = TaskFactory(code="W36", title="Touch-in", state="done", done_at=MOMENT)
    JointCoverFactory(joint=joint, task=paint, kind="paints")
    Joint.objects.update(state="welded")
    refused = page.post("/joints/J17/colour/", {"colour": "silver"})
    assert refused.status_code == 409
    assert "painted over, W36 Touch-in" in refused.text
    cover = joint.covers.get()
    assert (
        page.post(f"/joint-covers/{cover.pk}/off/", {"reason": ""}).status_code == 422
    )
    page.post(f"/joint-covers/{cover.pk}/off/", {"reason": "stripper"})
    cover.refresh_from_db()
    assert cover.off_at is not None
    assert Task.objects.get(code="W36").state == "done"


def test_only_the_owner_accepts(
    page: Client, helpers_page: Client, joint: Joint, owner: Any
) -> None:
    welded(owner, joint, MOMENT)
    tick_all(owner, joint, MOMENT, until=PrepStage.LOOK)
    page.post("/joints/J17/colour/", {"colour": "gold", "verdict": "accept"})
    refused = helpers_page.post("/joints/J17/accept/", {})
    assert refused.status_code == 403
    assert "Only the owner accepts a weld" in refused.text
    page.post("/joints/J17/accept/", {})
    assert state() == "accepted"


def test_the_third_rework_asks_first(page: Client, joint: Joint) -> None:
    Joint.objects.update(state="welded", reworks=2)
    asked = page.post("/joints/J17/reject/", {"reason": "crack"})
    assert asked.status_code == 409
    assert "rework 3 of J17. Cut it out" in asked.text
    assert 'value="crack"' in asked.text
    page.post("/joints/J17/reject/", {"reason": "crack", "third": "gusset"})
    assert state() == "rework"


def test_a_viewer_may_not_tap(viewers_page: Client, joint: Joint) -> None:
    refused = viewers_page.post("/joints/J17/step/", {"number": "1"})
    assert refused.status_code == 403
    assert not PrepTick.objects.exists()
