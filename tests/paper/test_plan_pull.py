"""The pull list: what to fetch, what is short, and who must move."""

from __future__ import annotations

import re

import pytest

from fabshop import words
from fabshop.paper.plan_pull import Absent, Pull, pull_list, task_pull_list
from fabshop.records.build import Component
from fabshop.records.order import OrderLine
from fabshop.records.plan import Plan
from fabshop.records.shelf import Consumable
from fabshop.records.shop import Shop
from fabshop.records.task import Task
from tests.factories import NeedFactory, ShelfWaiverFactory
from tests.paper.pdf import sizes_mm
from tests.paper.test_plan import BASE, said


@pytest.fixture
def pulls(demo_plan: Plan) -> dict[str, Pull]:
    return {p.code: p for p in pull_list(demo_plan.pk).context["pulls"]}


def test_what_is_short_says_by_how_much_and_what_to_take_instead(
    pulls: dict[str, Pull],
) -> None:
    assert pulls["P06/1"].short == "1"
    assert pulls["P06/1"].instead == "Spare board SP2"
    assert pulls["P17/1"].quantity == "2"
    assert pulls["P17/1"].can_expire


def test_parts_made_here_are_pulled_as_final_and_bought_ones_once(
    pulls: dict[str, Pull],
) -> None:
    assert pulls["T10"].state is words.ComponentState.FINAL
    assert pulls["T31"].hand == "left"
    assert "T12" not in pulls


def test_it_is_in_walking_order_with_unknown_places_last(demo_plan: Plan) -> None:
    Component.objects.filter(code="T10").update(place="shelf B")
    Consumable.objects.filter(code="C02").update(place="cold shelf")
    places = [pull.place for pull in pull_list(demo_plan.pk).context["pulls"]]
    known = [place for place in places if place]
    assert known == sorted(known) == ["cold shelf", "shelf B"]
    assert places[: len(known)] == known


def test_tools_stand_in_the_foot(demo_plan: Plan) -> None:
    NeedFactory(
        task=demo_plan.build.tasks.get(code="W25"),
        kind="tool",
        line=None,
        rack_code="TQ1",
        note="torque driver",
    )
    sheet = pull_list(demo_plan.pk)
    assert sheet.context["tools"] == ["torque driver"]
    assert "TQ1" not in {pull.code for pull in sheet.context["pulls"]}


def test_what_is_not_in_hand_says_when_and_whose_move(demo_plan: Plan) -> None:
    absent: dict[str, Absent] = {
        row.line: row for row in pull_list(demo_plan.pk).context["absent"]
    }
    assert absent["P06/1"].likely == "Sat 18 Sep 18:00"
    assert absent["P06/1"].late == "Tue 21 Sep 18:00"
    assert absent["P08/1"].move is words.Move.ME
    assert absent["P08/1"].tasks == ["W29"]


def test_once_it_is_booked_in_it_is_absent_no_more(demo_plan: Plan) -> None:
    line = OrderLine.objects.get(order__code="P06")
    line.receipts.create(
        kind="counted",
        counted_milli=2000,
        accepted_milli=2000,
        wrong_milli=0,
        parcel="p",
        at=demo_plan.made_at,
        client_id="counted-once",
    )
    sheet = pull_list(demo_plan.pk)
    assert "P06/1" not in {row.line for row in sheet.context["absent"]}
    (pull,) = [p for p in sheet.context["pulls"] if p.code == "P06/1"]
    assert pull.short == ""


def test_the_page_counts_nuts_and_lists_protection(demo_plan: Plan) -> None:
    html = said(pull_list(demo_plan.pk).html(base_url=BASE))
    assert "6 lines not in hand yet." in html
    assert "6 new M4 nut" in html
    assert re.search(r"Tools and protection .*eye protection .*gloves", html)


def test_it_is_two_pages(demo_plan: Plan) -> None:
    made = pull_list(demo_plan.pk).pdf(base_url=BASE, paper="a4")
    assert sizes_mm(made) == [(210, 297)] * 2


def test_what_is_used_up_says_until_when_it_is_good(pulls: dict[str, Pull]) -> None:
    """Structural adhesive: good until the end of November, so it is not marked."""
    assert (pulls["C02"].expiry, pulls["C02"].keeps) == ("Tue 30 Nov", None)
    assert pulls["C02"].what == "Structural adhesive cartridge"


def test_new_nuts_and_ties_come_from_their_trays(demo_plan: Plan) -> None:
    """Check value 4: six new nylon nuts, from the tray that holds twelve."""
    text = said(pull_list(demo_plan.pk).html(base_url=BASE))
    assert "6 new M4 nut , F04" in text
    assert "48 M3×8 BH (F01: 118)" in text
    assert "medium thread-locker: 28" in text


@pytest.mark.usefixtures("demo")
def test_a_task_has_its_own_with_what_is_short_of_it() -> None:
    """Row 44 and check value 10."""
    resin = {p.code: p for p in task_pull_list("W63").context["pulls"]}["C01"]
    assert (resin.quantity, resin.short) == ("130 g", "130 g")
    assert resin.expiry == "Thu 16 Sep"
    stale = {p.code: p for p in task_pull_list("W17").context["pulls"]}["C05"]
    assert stale.keeps is words.Keeps.GONE_OFF


def test_the_reason_of_an_overruling_is_printed(demo: Shop) -> None:
    """Row 44: the reason stays on the sheet."""
    thing = Consumable.objects.get(code="C05")
    task = Task.objects.get(code="W17")
    ShelfWaiverFactory(consumable=thing, task=task, last_good_on=thing.use_by_on)
    text = said(task_pull_list("W17").html(base_url=BASE))
    assert "used all the same: test piece set hard" in text
    assert "lasting skin allergy" in text
