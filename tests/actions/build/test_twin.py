from datetime import datetime

import pytest

from fabshop.actions.build import link_twins, unlink_twin
from fabshop.errors import BadInput, Clash
from fabshop.records.build import Component
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from tests.factories import BuildFactory, ComponentFactory


@pytest.fixture
def pair(db: None) -> tuple[Component, Component]:
    build = BuildFactory(name="Tuppence")
    return (
        ComponentFactory(build=build, code="T31", name="Duct"),
        ComponentFactory(build=build, code="T32", name="Duct"),
    )


def test_twins_are_linked_both_ways_with_opposite_sides(
    owner: Person, pair: tuple[Component, Component], now: datetime
) -> None:
    left = link_twins(by=owner, component=pair[0], twin=pair[1], side="L", now=now)
    right = Component.objects.get(code="T32")
    assert (left.twin, left.side) == (right, "L")
    assert (right.twin, right.side) == (left, "R")
    link_twins(by=owner, component=right, twin=left, side="R", now=now)
    assert LogEntry.objects.count() == 1, "the same said again is no news"


def test_twins_may_change_sides(
    owner: Person, pair: tuple[Component, Component], now: datetime
) -> None:
    for side in ("L", "R"):
        link_twins(by=owner, component=pair[0], twin=pair[1], side=side, now=now)
    assert Component.objects.get(code="T32").side == "L"


def test_a_part_is_not_its_own_twin(
    owner: Person, pair: tuple[Component, Component], now: datetime
) -> None:
    with pytest.raises(BadInput, match="A part cannot be its own twin"):
        link_twins(by=owner, component=pair[0], twin=pair[0], now=now)


def test_twins_are_of_one_build(
    owner: Person, pair: tuple[Component, Component], now: datetime
) -> None:
    other = ComponentFactory(code="G08", name="Rail", build=BuildFactory(name="Gannet"))
    with pytest.raises(BadInput, match="G08 Rail is on Gannet and T31 on Tuppence"):
        link_twins(by=owner, component=pair[0], twin=other, now=now)


def test_a_part_has_one_twin(
    owner: Person, pair: tuple[Component, Component], now: datetime
) -> None:
    link_twins(by=owner, component=pair[0], twin=pair[1], now=now)
    third = ComponentFactory(build=pair[0].build, code="T33")
    with pytest.raises(Clash, match="T32 is the twin of T31 Duct already"):
        link_twins(by=owner, component=third, twin=pair[1], now=now)


def test_a_side_is_left_or_right(
    owner: Person, pair: tuple[Component, Component], now: datetime
) -> None:
    with pytest.raises(BadInput, match="“up” is neither L nor R"):
        link_twins(by=owner, component=pair[0], twin=pair[1], side="up", now=now)


def test_twins_go_their_own_ways(
    owner: Person, pair: tuple[Component, Component], now: datetime
) -> None:
    link_twins(by=owner, component=pair[0], twin=pair[1], side="L", now=now)
    unlink_twin(by=owner, component=pair[1], now=now)
    assert not Component.objects.exclude(twin=None, side="").exists()
