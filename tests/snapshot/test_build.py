"""Places on live builds are told with their covers, twins and fastenings."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop import words
from fabshop.reckoning.facts import BuildFact, FasteningFact
from fabshop.snapshot import plan_clock
from fabshop.snapshot.build import build_facts, component_facts
from tests.factories import (
    MOMENT,
    BuildFactory,
    ComponentFactory,
    CoverFactory,
    FasteningFactory,
    ShopFactory,
)

pytestmark = pytest.mark.django_db


def told(build):
    return {fact.id: fact for fact in component_facts([build])}


def test_a_build_is_told_with_its_end_on_the_plans_clock():
    ShopFactory()
    build = BuildFactory(slug="tuppence", name="Tuppence")
    bare = BuildFactory(slug="idea", pack_out_at=None, event_on=None)
    facts = build_facts([build, bare], plan_clock(MOMENT))
    assert facts[0].pack_out == datetime(2027, 9, 22, 12)
    assert facts[1] == BuildFact("idea", bare.name)


def test_covers_of_one_route_belong_together():
    build = BuildFactory()
    deck, lid, skirt, skid = (
        ComponentFactory(build=build, code=code)
        for code in ("deck", "lid", "skirt", "skid")
    )
    CoverFactory(under=deck, cover=lid, route=1)
    CoverFactory(under=deck, cover=skirt, route=2)
    CoverFactory(under=deck, cover=skid, route=2)
    facts = told(build)
    assert facts["deck"].routes == (("lid",), ("skid", "skirt"))
    assert facts["lid"].routes == ()


def test_a_retired_cover_lies_over_nothing_any_more():
    build = BuildFactory()
    deck, lid = (ComponentFactory(build=build, code=code) for code in ("deck", "lid"))
    CoverFactory(under=deck, cover=lid)
    lid.is_on, lid.state = False, words.ComponentState.RETIRED
    lid.save()
    facts = told(build)
    assert list(facts) == ["deck"]
    assert facts["deck"].routes == ((),)


def test_what_sits_there_is_told_as_it_is():
    build = BuildFactory(slug="tuppence")
    left = ComponentFactory(
        build=build,
        code="T06",
        side=words.Side.LEFT,
        state=words.ComponentState.STAND_IN,
        off_minutes=None,
        is_for_good=True,
        watch="cable",
    )
    right = ComponentFactory(build=build, code="T07", twin=left, is_on=False)
    FasteningFactory(component=left, count=7, size="M2.5×6 CS", is_single_use=True)
    facts = told(build)
    assert facts["T06"].build == "tuppence"
    assert facts["T06"].off_minutes is None
    assert facts["T06"].for_good and facts["T06"].watch == "cable"
    assert facts["T06"].state is words.ComponentState.STAND_IN
    assert facts["T06"].fastenings == (
        FasteningFact(count=7, size="M2.5×6 CS", single_use=True),
    )
    assert (facts["T07"].twin, facts["T07"].is_on) == ("T06", False)
    assert right.twin == left


def test_other_builds_are_not_read():
    ComponentFactory()
    assert told(BuildFactory()) == {}
