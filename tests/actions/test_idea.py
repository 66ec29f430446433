"""Ideas have no effect on the plan until they are weighed and taken up."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from fabshop.actions.idea import (
    Wanted,
    add_idea,
    promote_idea,
    weigh_idea,
    wipe_idea,
)
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.build import Build
from fabshop.records.idea import Idea
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, Supplier
from fabshop.records.schedule import ShopPlan
from fabshop.records.shop import Person
from fabshop.snapshot import digest, take
from tests.factories import IdeaFactory, SupplierFactory, TaskFactory

pytestmark = pytest.mark.django_db
RINGS = Wanted(code="W90", title="Brass lamp rings", minutes=90, points=2)


def test_an_idea_is_one_line_and_the_plan_does_not_move(
    helper: Person, now: datetime
) -> None:
    before = digest(take(now))
    idea = add_idea(by=helper, text="Brass lamp rings?", now=now, client_id="i1")
    assert (
        add_idea(by=helper, text="Brass lamp rings?", now=now, client_id="i1") == idea
    )
    assert list(Idea.objects.on_the_wall()) == [idea]
    assert LogEntry.objects.get(kind="idea").text == "Brass lamp rings?"
    assert digest(take(now)) == before


@pytest.mark.parametrize("text", ["", "  ", "\x00"])
def test_nothing_written_is_no_idea(helper: Person, now: datetime, text: str) -> None:
    with pytest.raises(BadInput, match="Nothing is written"):
        add_idea(by=helper, text=text, now=now)


def test_wiped_off_it_stays_kept_and_only_its_owner_or_the_owner_wipes(
    owner: Person, helper: Person, now: datetime
) -> None:
    idea = IdeaFactory(person=owner)
    with pytest.raises(NotAllowed):
        wipe_idea(by=helper, idea=idea, now=now)
    wipe_idea(by=owner, idea=idea, now=now)
    assert not Idea.objects.on_the_wall().exists()
    with pytest.raises(Clash, match="wiped off"):
        promote_idea(by=owner, idea=idea, wanted=RINGS, now=now)


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"minutes": 0}, "minutes"),
        ({"title": ""}, "title"),
        ({"code": "W 90"}, "code"),
        ({"lead_days": -1}, "lead_days"),
    ],
)
def test_what_is_asked_is_answered_before_it_is_weighed(
    owner: Person, now: datetime, changed: dict[str, Any], field: str
) -> None:
    asked = {"code": "W90", "title": "Rings", "minutes": 90} | changed
    with pytest.raises(BadInput) as error:
        weigh_idea(by=owner, idea=IdeaFactory(), wanted=Wanted(**asked), now=now)
    assert error.value.field == field


def test_without_a_plan_there_is_nothing_to_weigh_against(
    owner: Person, now: datetime
) -> None:
    with pytest.raises(BadInput, match="Ask for the plan first"):
        weigh_idea(by=owner, idea=IdeaFactory(), wanted=RINGS, now=now)


def test_taken_up_it_is_a_task_that_need_not_be_done(
    owner: Person, helper: Person, now: datetime
) -> None:
    idea = IdeaFactory()
    with pytest.raises(NotAllowed):
        promote_idea(by=helper, idea=idea, wanted=RINGS, now=now)
    idea = promote_idea(by=owner, idea=idea, wanted=RINGS, now=now)
    assert idea.task is not None
    assert (idea.task.code, idea.task.points, idea.task.is_required) == (
        "W90",
        2,
        False,
    )
    with pytest.raises(Clash, match="taken up already"):
        promote_idea(by=owner, idea=idea, wanted=RINGS, now=now)


def test_a_part_that_takes_days_is_an_order_not_sent_yet(
    owner: Person, now: datetime
) -> None:
    firm: Supplier = SupplierFactory()
    wanted = Wanted(code="W90", title="Brass lamp rings", minutes=90, lead_days=9)
    with pytest.raises(BadInput, match="Who makes the part"):
        promote_idea(by=owner, idea=IdeaFactory(), wanted=wanted, now=now)
    promote_idea(by=owner, idea=IdeaFactory(), wanted=wanted, supplier=firm, now=now)
    order = Order.objects.get(code="P-W90")
    assert (order.sent_on, order.lead_late_days) == (None, 9)
    assert order.lines.get().needed_by.get().task.code == "W90"


def test_a_code_that_is_taken_is_refused(owner: Person, now: datetime) -> None:
    TaskFactory(code="W90")
    with pytest.raises(Clash, match="There is a task W90 already"):
        promote_idea(by=owner, idea=IdeaFactory(), wanted=RINGS, now=now)


def test_on_the_demo_an_idea_of_twenty_hours_displaces_points_and_nothing_is_written(
    odile: Person, demo_shop_plan: ShopPlan, now: datetime
) -> None:
    build = Build.objects.get(slug="tuppence")
    idea = add_idea(by=odile, text="An opening tailgate", now=now, build=build)
    before = digest(take(now))
    wanted = Wanted(code="W90", title="An opening tailgate", minutes=20 * 60, points=1)
    told = weigh_idea(by=odile, idea=idea, wanted=wanted, now=now)
    assert "points become" in told or "cannot be done" in told, told
    assert digest(take(now)) == before
    assert not Order.objects.filter(code="P-W90").exists()
