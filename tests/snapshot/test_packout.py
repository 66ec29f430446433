"""The cards of a build, with spares and breakages, in a fixed number of queries."""

from __future__ import annotations

from datetime import datetime

import pytest
from pytest_django import DjangoAssertNumQueries

from fabshop.actions.packout import broke
from fabshop.records.build import Component
from fabshop.records.shop import Person
from fabshop.snapshot import take
from fabshop.snapshot.packout import pit_cards, spare_facts

pytestmark = pytest.mark.django_db


def test_the_rear_arm_of_the_demo_says_wheels_first_and_two_new_nuts(
    odile: Person, now: datetime
) -> None:
    broke(by=odile, component=Component.objects.get(code="T25"), now=now)
    cards = {card.component.id: card for card in pit_cards(take(now), "tuppence")}
    assert len(cards) == 34
    arm = cards["T25"]
    assert [one.id for one in arm.first] == ["T34"]
    assert (arm.first_minutes, arm.off_minutes, arm.back_minutes) == (4, 9, 16)
    assert arm.new_nuts == (("M4×12 SH", 2),)
    assert (arm.spares, arm.broke_before) == ((), 1)
    assert [spare.id for spare in cards["T18"].spares] == ["SP1"]


def test_spares_are_read_in_two_queries_and_the_cards_in_three(
    odile: Person, now: datetime, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    with django_assert_num_queries(3):
        assert len(spare_facts()) == 6
    facts = take(now)
    with django_assert_num_queries(4):
        pit_cards(facts, "gannet")
