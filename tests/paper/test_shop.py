"""The wall sheet: today in one look."""

from __future__ import annotations

from django.test import Client

from fabshop.paper.shop import wall_sheet
from fabshop.reckoning.overnight import begun_today
from fabshop.records.plan import Plan
from fabshop.records.schedule import ShopPlan
from fabshop.records.shop import Day, Shop
from fabshop.snapshot import take
from fabshop.snapshot.nights import nights_of
from tests.factories import MOMENT, ShopFactory
from tests.paper.pdf import sizes_mm
from tests.paper.test_plan import BASE, said


def wall() -> str:
    return said(wall_sheet().html(base_url=BASE))


def test_what_must_go_out_tonight_stands_first(demo_plan: Plan) -> None:
    html = wall()
    tonight = html.index("Send tonight: P08 Driver figure: last sure day Sat 4 Sep")
    start = html.index("Tuppence: start the teardown by Sun 19 Sep 12:02, 2 h 02 in")
    assert html.index("Back of the Bakery, Fri 3 Sep") < tonight < start


def test_hours_in_hand_next_jobs_and_holds(demo: Shop) -> None:
    html = wall()
    assert "82 h at the bench to pack-out." in html
    assert len(wall_sheet().context["next"]) == 3
    assert "W23 Buried wiring powered test" in html


def test_a_run_says_by_when_to_start_it_and_when_it_ends(demo: Shop) -> None:
    facts = take(MOMENT)
    runs = begun_today(nights_of(facts, None, MOMENT), facts.now.date())
    assert runs
    html = wall()
    for run in runs:
        assert f"{run.machine}: {run.sentence}" in html


def test_no_run_goes_on_into_a_day_when_nothing_may_run(demo: Shop) -> None:
    Day.objects.update_or_create(on="2027-09-04", defaults={"may_run_machines": False})
    for told in wall_sheet().context["runs"]:
        assert "ends Sat 4 Sep" not in told


def test_goals_stand_in_the_order_in_which_they_can_still_be_swapped(
    demo: Shop,
) -> None:
    goals = wall_sheet().context["goals"]
    moments = [line.stand.last_at for line in goals if line.stand.last_at]
    assert moments == sorted(moments)
    assert {line.stand.worth.task for line in goals} >= {"W21", "W57", "W07"}
    assert "Spare board SP2" in wall()


def test_the_wall_tells_the_plan_and_its_band(demo_shop_plan: ShopPlan) -> None:
    html = wall()
    assert "Pack-out is made" in html
    assert "in 100 that it holds." in html
    assert "Hours wanted, and hours there are" in html
    assert "DROPPED" in html or "PLAN B" in html


def test_an_empty_shop_has_a_wall_too(db: None) -> None:
    ShopFactory()
    html = wall()
    assert "Nothing can be started now." in html
    assert "0 min at the bench to pack-out." in html


def test_three_pages_at_most(demo_plan: Plan) -> None:
    assert len(sizes_mm(wall_sheet().pdf(base_url=BASE, paper="a4"))) <= 3
    assert Client().get("/paper/wall/").status_code == 302
