"""The small titanium frame, from its tables to page, template, cut list and weld."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from fabshop.actions.frame import add_frame
from fabshop.actions.intake import take_table
from fabshop.actions.joint import add_joint, call_colour, move_joint, tick_step
from fabshop.actions.joint.prep import prep_now
from fabshop.errors import Clash, NeedsAnswer
from fabshop.reckoning.frame import reckon_frame
from fabshop.records.frame import Frame
from fabshop.records.joint import Joint
from fabshop.records.shop import Person
from fabshop.records.stock import CutWish
from fabshop.snapshot.frame import frame_facts
from fabshop.words import PrepStage
from tests.actions.joint.prepared import tick_all
from tests.factories import BuildFactory
from tests.paper.drawn import lines_of
from tests.paper.test_frame import curves

TABLES = Path(__file__).parents[1] / "fixtures" / "frame"


@pytest.fixture
def cradle(owner: Person, now: datetime) -> Frame:
    build = BuildFactory(slug="wren", name="Wren")
    frame = add_frame(by=owner, build=build, code="cradle", name="Cradle", now=now)
    for noun in ("nodes", "tubes"):
        content = (TABLES / f"{noun}.csv").read_bytes()
        take_table(by=owner, kind=noun, content=content, now=now, accept="all")
    return frame


@pytest.mark.django_db
def test_from_its_tables_to_page_template_and_cut_list(
    client: Client, owner: Person, cradle: Frame
) -> None:
    client.force_login(owner)
    shown = client.get("/frames/cradle/").text
    assert "6 tubes between 12 nodes" in shown
    assert "not computed" not in shown
    for tube in reckon_frame(frame_facts(cradle)).tubes:
        page = client.get(f"/frames/cradle/tubes/{tube.fact.mark}/")
        assert f"{tube.cut_mm:.1f}" in page.text
        ends = [end for end in tube.ends if end.fact.kind == "coped"]
        for paper in ("a4", "letter"):
            at = f"/paper/cope/tube/cradle/{tube.fact.mark}.pdf?paper={paper}"
            made = client.get(at)
            assert made.status_code == (200 if ends else 422), at
            if ends:
                drawn = sum(len(curves(page, 0.5)) for page in lines_of(made.content))
                assert drawn == len(ends)
    assert client.post("/frames/cradle/wish/").status_code == 302
    wishes = {wish.code: wish for wish in CutWish.objects.all()}
    assert len(wishes) == 6
    assert {wish.material.code for wish in wishes.values()} == {"ti-9"}
    left, right = wishes["cradle-brace-L"], wishes["cradle-brace-R"]
    assert left.length_um == right.length_um


@pytest.mark.django_db
def test_a_titanium_joint_is_cleaned_shielded_and_judged(
    owner: Person, helper: Person, cradle: Frame, now: datetime
) -> None:
    joint = _joint(owner, cradle, now)
    told = [stand.step for stand in prep_now(joint, now).stands]
    # What the checklist must ask, in the order in which it is asked.
    asked = (
        "Material identified",
        "No chlorinated solvent",
        "Degreased",
        "carbide or the stainless brush that touches titanium only",
        "Wiped again",
        "Clean lint-free gloves",
        "Back purge on",
        "Filler of the right grade, wiped",
        "Back purge on for the weld",
        "Trailing shield on",
        "Shielding held until cool",
    )
    ahead = iter(told)
    for words in asked:
        step = next(step for step in ahead if words in step.text)
        assert step.is_stop
        assert step.source
    # How long the purge runs is the shop's own: it is asked.
    assert [step.minutes for step in told if step.does == "purges"] == [None, None]

    tick_all(helper, joint, now, until=PrepStage.WELD)
    late = now + timedelta(hours=9)
    with pytest.raises(NeedsAnswer, match="was cleaned 9 h"):
        move_joint(by=helper, joint=joint, state="welded", now=late)
    move_joint(by=helper, joint=joint, state="welded", now=now)
    call_colour(by=helper, joint=joint, colour="blue", now=now)
    joint.refresh_from_db()
    assert (joint.state, joint.reworks, joint.found) == ("rework", 1, "colour blue")
    call = joint.calls.get()
    assert "EN ISO 9606-5" in call.by_table


@pytest.mark.django_db
def test_each_stop_of_a_titanium_joint_bars_its_weld(
    owner: Person, cradle: Frame, now: datetime
) -> None:
    joint = _joint(owner, cradle, now)
    tick_all(owner, joint, now, until=PrepStage.WELD)
    stops = [
        stand.step.number
        for stand in prep_now(joint, now).stands
        if stand.step.is_stop and stand.step.stage != "look"
    ]
    assert len(stops) == 10
    said: dict[str, Any] = {"by": owner, "joint": joint, "now": now}
    for number in stops:
        tick_step(number=number, is_done=False, **said)
        with pytest.raises(Clash, match="1 stop step open"):
            move_joint(state="welded", **said)
        tick_step(number=number, minutes=0, **said)
    move_joint(state="welded", **said)


def _joint(owner: Person, frame: Frame, now: datetime) -> Joint:
    foot = reckon_frame(frame_facts(frame)).tube("brace-L").ends[0]
    assert foot.landed is not None
    return add_joint(
        by=owner,
        build=frame.build,
        code="C1",
        name="Brace L foot",
        material="ti-9",
        cut_od_um=6000,
        cut_wall_um=900,
        onto_od_um=8000,
        angle_mdeg=round(foot.landed.angle_deg * 1000),
        offset_um=round(foot.landed.offset_mm * 1000),
        cut_heat_lot="T1",
        onto_heat_lot="T2",
        now=now,
    )
