"""The traveler of a joint set: what it tells, what it leaves to a pencil."""

from __future__ import annotations

from datetime import datetime
from io import BytesIO

import pytest
from django.test import Client
from freezegun import freeze_time
from pypdf import PdfReader

from fabshop.actions.joint import tick_step
from fabshop.errors import NotFound
from fabshop.paper.joint import traveler, travelers_of
from fabshop.records.build import Build
from fabshop.records.joint import Joint
from fabshop.records.shop import Person, Shop
from tests.factories import MOMENT, TaskFactory


@pytest.fixture
def frozen(demo: Shop) -> object:
    with freeze_time(MOMENT):
        yield


def html(code: str) -> str:
    return traveler(code).html(base_url="http://shop")


def test_the_gas_of_the_whole_set_stands_first(frozen: object) -> None:
    told = html("W43")
    assert 'class="lead">18 bar, this set needs 18: no reserve, book the swap.' in told
    for code in ("J17", "J18", "J19", "J20", "J21", "J22"):
        assert f'alt="http://shop/joints/{code}/"' in told
    assert "checklist stainless, version 1" in told
    assert "52.6; <b>37.4</b>" in told


def test_it_gives_no_parameter_of_its_own(frozen: object) -> None:
    told = html("W43")
    assert "your own record; this sheet gives none" in told
    assert 'amps <span class="blank' in told


def test_every_row_is_named_and_the_stops_are_bold(frozen: object) -> None:
    told = html("W43")
    for row in (
        "Cope gap measured",
        "Inside edge deburred",
        "<b>STOP</b> Degreased",
        "<b>STOP</b> Brushed",
        "Wiped, and dry",
        "<b>STOP</b> Filler of the right grade, wiped",
        "<b>STOP</b> Back purge on, exit plug in",
        "Fit-up clamped, angle checked",
        "tacked, four",
        "measured again",
        "<b>welded</b>",
        "Post-flow held until cool",
        "colour, in a word, before any brush",
        "undercut, crack, toe",
        "its twin looked at",
        "<b>accepted</b>; rework no.",
        "initials, time",
    ):
        assert row in told, row
    assert "HOLD: NO PAINT, NO COVER BEFORE IT IS ACCEPTED: W57 Fit cab to hoop" in told


def test_what_is_done_on_the_phone_is_done_on_paper(
    frozen: object, odile: Person
) -> None:
    joint = Joint.objects.get(code="J17")
    tick_step(by=odile, joint=joint, number=1, now=MOMENT)
    assert "<b>done 06:45</b>" in html("W43")


def test_both_heat_lots_are_printed_and_unknown_in_words(frozen: object) -> None:
    Joint.objects.filter(code="J18").update(
        cut_heat_lot="", heat_waived_why="from the drop tray"
    )
    told = html("W43")
    assert "304 <b>UNKNOWN</b><br>304 <b>7K214</b>" in told
    assert "J18 heat lot UNKNOWN: from the drop tray" in told
    assert "304 <b>7K139</b><br>304 <b>7K214</b>" in html("W45")


def test_a_rework_is_told_with_its_cause_and_its_twin(frozen: object) -> None:
    told = html("W34")
    assert "rework 1: toe crack 3 mm" in told
    assert "look again: twin J07 failed, toe crack 3 mm" in told
    assert "colour, in a word" not in told


def test_cautions_stand_on_it_and_defer(frozen: object) -> None:
    told = html("W43")
    assert "Argon sinks and fills low" in told
    assert "The arc burns eyes and skin" in told
    assert "licensed practice come before this" in told


def test_a_task_without_joints_has_none(db: None) -> None:
    task = TaskFactory(code="W99")
    with pytest.raises(NotFound, match="welds no joint"):
        traveler(task.code)


def test_each_set_that_is_not_accepted_has_one(frozen: object) -> None:
    names = {
        slug: [one.filename for one in travelers_of(Build.objects.get(slug=slug))]
        for slug in ("tuppence", "gannet")
    }
    assert names == {
        "tuppence": ["tuppence-traveler-W33", "tuppence-traveler-W34"],
        "gannet": [f"gannet-traveler-{code}" for code in ("W43", "W45", "W47")],
    }


def test_it_is_made_as_pdf_on_both_papers(
    frozen: object, client: Client, odile: Person
) -> None:
    client.force_login(odile)
    for paper in ("a4", "letter"):
        answer = client.get(f"/paper/traveler/W43.pdf?paper={paper}")
        assert answer.content.startswith(b"%PDF")
        assert "J17" in PdfReader(BytesIO(answer.content)).pages[0].extract_text()


def test_now_is_the_shops(demo: Shop, demo_now: datetime) -> None:
    with freeze_time(demo_now):
        assert traveler("W33").made_at == demo_now
