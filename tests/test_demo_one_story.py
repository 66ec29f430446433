"""Home, plan, What gives, Overnights, Whose move and the wall tell one story."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client
from freezegun import freeze_time

from fabshop.reckoning.overnight import begun_today
from fabshop.reckoning.planning.goals import stands
from fabshop.reckoning.planning.needs import line_needs
from fabshop.records.plan import Plan
from fabshop.records.schedule import ShopPlan
from fabshop.records.shop import Person
from fabshop.snapshot import take, take_whole
from fabshop.snapshot.kept_plan import KeptPlan, kept_plan, planned_stands
from fabshop.snapshot.nights import nights_of
from fabshop.units import show_day, show_minutes, show_moment
from tests.factories import MOMENT

pytestmark = pytest.mark.django_db

PAGES = {
    "home": "/",
    "plan": "/plan/",
    "gives": "/plan/what-gives/",
    "move": "/plan/whose-move/",
    "sure": "/plan/how-sure/",
    "nights": "/overnights/",
    "wall": "/paper/wall/",
}


@pytest.fixture
def kept(demo_shop_plan: ShopPlan) -> KeptPlan:
    found = kept_plan(take(MOMENT))
    assert found is not None
    return found


@pytest.fixture
def pages(
    kept: KeptPlan, demo_plan: Plan, odile: Person, client: Client
) -> Iterator[dict[str, str]]:
    """The words of each page, with a plan and, accepted beside it, a teardown."""
    with freeze_time(MOMENT):
        client.force_login(odile)
        yield {name: _words(client.get(path)) for name, path in PAGES.items()}


def test_points_and_hours_in_hand_are_the_same_wherever_they_stand(pages, kept):
    points = f"{kept.story.points} of {kept.story.most_points} points"
    in_hand = f"{show_minutes(kept.story.in_hand_minutes)} in hand"
    for name in ("home", "plan", "gives", "wall"):
        assert points in pages[name], name
    for name in ("home", "plan", "wall"):
        assert in_hand in pages[name], name
        assert f"Pack-out is made {show_moment(kept.story.finish)}" in pages[name]
    assert show_minutes(kept.story.hours_minutes) in pages["plan"]
    assert f"{show_minutes(kept.story.hours_minutes)} at the bench" in pages["wall"]


def test_how_sure_it_is_is_said_the_same(pages, kept):
    share = min(99, round(100 * kept.plan.sure["plans"][0]["chance"]))
    for name in ("home", "plan", "sure", "wall"):
        assert f"{share} in 100 that" in pages[name], name
    for name in ("plan", "sure", "wall"):
        assert f"{kept.late.points} points" in pages[name], name


def test_the_teardown_begins_by_the_same_moment(pages, kept):
    (stand,) = planned_stands(take(MOMENT), kept, ())
    for name in ("home", "wall"):
        assert f"start the teardown by {show_moment(stand.start_by)}" in pages[name]
    assert f"start by {show_moment(stand.start_by)}" in pages["plan"]
    for text in pages.values():
        others = re.findall(r"[Tt]eardown by (\w+ \d+ \w+ \d+:\d+)", text)
        assert set(others) <= {show_moment(stand.start_by)}


def test_the_days_to_send_are_those_that_the_plan_needs(pages, kept):
    needs = [one for one in line_needs(take(MOMENT), kept.story) if one.unsent]
    assert needs
    for one in needs:
        if one.last_sure_on is None or one.last_sure_on < MOMENT.date():
            continue
        day = f"last sure day {show_day(one.last_sure_on)}"
        for name in ("home", "move", "wall"):
            assert re.search(f"{one.order} [^:]*: {day}", pages[name]), (name, one)


def test_what_the_plan_goes_without_is_not_to_be_sent_tonight(pages, kept):
    facts = take(MOMENT)
    waited = {facts.line_by_id[line].order for line in kept.story.needed}
    for name in ("home", "wall"):
        urgent = set(re.findall(r"Send tonight: (P\d+)", pages[name]))
        assert urgent <= waited, name
    assert set(re.findall(r"Send tonight: (P\d+)", pages["home"])) == set(
        re.findall(r"Send tonight: (P\d+)", pages["wall"])
    )


def test_the_last_hour_to_switch_is_the_same(pages, kept):
    checked = 0
    for stand in stands(take_whole(MOMENT), kept.story):
        if stand.last_at is None or not stand.switches or stand.is_plan_b:
            continue
        told = show_moment(stand.last_at)
        assert f"Plan B until {told}" in pages["gives"], stand.worth.task
        assert told in pages["wall"], stand.worth.task
        checked += 1
    assert checked > 5


def test_runs_stand_in_the_plans_order_and_the_same_one_before_bed(pages, kept):
    facts = take(MOMENT)
    nights = nights_of(facts, kept, MOMENT)
    for night in nights:
        planned = [
            row.task
            for row in sorted(kept.story.rows, key=lambda row: row.finish)
            if row.machine == night.machine and row.run_ends
        ]
        assert [run.task for run in night.runs] == planned
        for run in night.runs:
            assert run.when in pages["nights"]
            assert f"runs until {show_moment(run.ends_at)}" in pages["plan"]
    for run in begun_today(nights, facts.now.date()):
        assert run.sentence in pages["home"]
        assert run.sentence in pages["wall"]


def _words(answer: Any) -> str:
    assert answer.status_code == 200
    text = re.sub(r"(?s)<(style|script|svg|head).*?</\1>", " ", answer.text)
    text = html.unescape(re.sub(r"<[^>]+>", " ", text))
    return re.sub(r"\s+([,.;:])", r"\1", re.sub(r"\s+", " ", text))
