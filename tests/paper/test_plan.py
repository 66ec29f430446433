"""The teardown sheet of the demo: asserted as HTML, counted and sized as PDF."""

from __future__ import annotations

import re
from html import unescape

import pytest
from django.http import Http404

from fabshop.actions.plan import ask_teardown
from fabshop.paper.plan import disturbed, teardown_sheet
from fabshop.records.build import Component
from fabshop.records.plan import Plan
from fabshop.records.shelf import Consumable, ShelfWaiver
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import (
    MOMENT,
    ComponentFactory,
    FasteningFactory,
    ShelfWaiverFactory,
)
from tests.paper.pdf import sizes_mm, texts

BASE = "http://shop.test:8000"


@pytest.fixture
def html(demo_plan: Plan) -> str:
    return said(teardown_sheet(demo_plan.pk).html(base_url=BASE))


def said(html: str) -> str:
    """The words of a page, tags left out."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


def test_the_head_says_first_when_to_start(html: str) -> None:
    assert "Tuppence: last teardown, edition A" in html
    assert "Start by Sun 19 Sep 12:02: 2 h 02 in hand." in html
    assert "pack-out closes Wed 22 Sep 12:00" in html
    assert "off 2 h 28, work 16 h 16, on 1 h 39" in html


def test_late_parcels_are_said_with_what_they_cost(html: str) -> None:
    assert "Parcels late W21 W22 W23 W27 W29 W30 cannot be done" in html


def test_each_gate_has_a_box_and_the_last_delivery_for_its_plan_b(html: str) -> None:
    assert (
        "P06/1 Power board with cut-off for W21 Sat 18 Sep 18:00 Tue 21 Sep 18:00 "
        "Sat 18 Sep 18:00 Spare board SP2"
    ) in html


def test_line_one_is_the_main_switch_and_the_plug_has_its_step(html: str) -> None:
    first = html.index("First: main switch off.")
    plug = re.search(r"Battery unplugged at step (\d+): its plug is bare then.", html)
    assert plug
    assert first < plug.start() < html.index("A. Off")
    step = html.index(f" {plug[1]} T14 Centre cover")
    bare = html.index("The battery's plug is bare: unplug it now.")
    assert step < bare < html.index(f" {int(plug[1]) + 1} ", step)


def test_a_hold_names_what_may_not_be_closed_and_never_its_own_zone(html: str) -> None:
    assert "HOLD W23: DO NOT CLOSE T02 T10 T11 T14 T20 UNTIL SIGNED" in html
    assert "Voltage under load V (10.5 to 12.65)" in html
    assert "passed failed: signed at" in html


def test_cures_keep_what_is_over_them_off_until_the_clock_says(html: str) -> None:
    assert re.search(r"W24 .* cured Sun 19 Sep \d\d:\d\d", html)
    assert re.search(r"DO NOT CLOSE T11 T14 BEFORE SUN 19 SEP \d\d:\d\d", html)


def test_what_is_for_good_says_what_is_never_reached_again(html: str) -> None:
    assert (
        "FOR GOOD. After this you cannot reach: T10 Dash panel, T13 Main loom." in html
    )


def test_the_screws_disturbed_are_those_of_the_tables(html: str) -> None:
    """Check value 4 of the demo: 67 screws, 28 lockered, 33 dry, 6 new nuts."""
    assert "67 screws : 48 M3, 15 M4, 4 M2.5." in html
    assert "33 dry, 28 medium thread-locker, 6 new nylon nut" in html


def test_every_step_stands_once_in_order_with_the_times_of_this_plan(
    demo_plan: Plan,
) -> None:
    html = teardown_sheet(demo_plan.pk).html(base_url=BASE)
    numbers = re.findall(r'<td class="number">(\d+)</td>', html)
    steps = [s for told in demo_plan.answer["sessions"] for s in told["steps"]]
    assert numbers == [str(n) for n in range(1, len(steps) + 1)]
    starts = re.findall(r'<span class="clock">(\d\d:\d\d)</span>', html)
    assert starts == [step["start"][-5:] for step in steps]


def test_every_step_has_the_address_of_itself_on_the_phone(demo_plan: Plan) -> None:
    html = teardown_sheet(demo_plan.pk).html(base_url=BASE)
    assert f"{BASE}/plans/{demo_plan.pk}/steps/14/" in html
    assert "TUPPENCE A 14" in html


def test_a_refit_says_what_goes_on_and_which_nuts_are_new(html: str) -> None:
    assert "T04 Nose cone STAND-IN" in html
    assert "T20 Rear deck FINAL" in html
    assert "2 new nuts" in html


def test_cautions_are_short_and_defer(html: str) -> None:
    assert "Lithium cells: unplug before tools come near" in html
    assert "makers' data sheets and licensed practice come before this sheet." in html


def test_what_is_used_though_gone_off_stays_on_the_sheet_with_its_reason(
    demo_plan: Plan,
) -> None:
    glue = Consumable.objects.get(code="C02")
    ShelfWaiverFactory(consumable=glue, task=Task.objects.get(code="W24"))
    html = said(teardown_sheet(demo_plan.pk).html(base_url=BASE))
    assert "Overruled: W24 uses C02 Structural adhesive cartridge, gone off " in html
    assert "Tue 31 Aug: test piece set hard" in html
    ShelfWaiver.objects.update(is_taken_back=True)
    assert "Overruled" not in said(teardown_sheet(demo_plan.pk).html(base_url=BASE))


def test_a_plan_not_accepted_says_so(demo_plan: Plan, odile: Person) -> None:
    asked = ask_teardown(by=odile, build=demo_plan.build, now=MOMENT, tasks=["W25"])
    html = said(teardown_sheet(asked.pk).html(base_url=BASE))
    assert "Only proposed: nobody has accepted this plan." in html


def test_a_plan_that_is_not_there(demo_plan: Plan) -> None:
    with pytest.raises(Http404):
        teardown_sheet(demo_plan.pk + 1)


def test_ties_and_plugs_are_not_screws(db: None) -> None:
    part = ComponentFactory(code="C1")
    FasteningFactory(
        component=part, count=4, size="M4×12 SH", locker="nylon-nut", is_single_use=True
    )
    FasteningFactory(component=part, count=9, size="ties", is_screw=False)
    found = disturbed(Component.objects.prefetch_related("fastenings"))
    assert (found.total, found.sizes) == (4, [("M4", 4)])
    assert found.lockers == [("new nylon nut", 4)]
    assert found.besides == ["C1 9 ties"]
    assert found.new == [("M4", 4)]


@pytest.mark.parametrize(
    ("paper", "size"), [("a4", (210, 297)), ("letter", (216, 279))]
)
def test_the_pdf_breaks_no_step_and_its_foot_leads_to_the_first_step_of_the_page(
    demo_plan: Plan, paper: str, size: tuple[int, int]
) -> None:
    made = teardown_sheet(demo_plan.pk).pdf(base_url=BASE, paper=paper)
    assert set(sizes_mm(made)) == {size}
    pages = texts(made)
    assert 6 <= len(pages) <= 9
    for number, page in enumerate(pages, start=1):
        assert f"{number}/{len(pages)}" in page
        assert "made Fri 3 Sep 06:45 from" in page
        assert "edition A" in page
    steps_at = re.compile(rf"{re.escape(BASE)}/plans/{demo_plan.pk}/steps/(\d+)/")
    seen = [int(found[1]) for page in pages if (found := steps_at.search(page))]
    assert seen == sorted(set(seen))
    assert seen[0] == 1
    assert len(seen) >= 5
