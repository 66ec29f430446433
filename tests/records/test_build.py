"""What may never be true of builds and what sits on them."""

from __future__ import annotations

from typing import Any

import pytest

from tests.factories import (
    BuildFactory,
    ComponentFactory,
    CoverFactory,
    FasteningFactory,
)
from tests.records.refused import refused

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("check", "fields"),
    [
        ("component_state_known", {"state": "shiny"}),
        ("component_side_known", {"side": "X"}),
        ("component_that_is_missing_is_not_on", {"state": "missing", "is_on": True}),
        ("component_that_is_missing_is_not_on", {"state": "retired", "is_on": True}),
        ("component_mass_says_how_it_is_known", {"mass_mg": 5, "mass_basis": ""}),
        ("component_mass_says_how_it_is_known", {"mass_mg": None, "mass_basis": "est"}),
    ],
)
def test_a_component_that_cannot_be(check: str, fields: dict[str, Any]) -> None:
    with refused(check):
        ComponentFactory(**fields)


def test_a_component_is_not_its_own_twin() -> None:
    part = ComponentFactory()
    part.twin = part
    with refused("component_is_not_its_own_twin"):
        part.save()


def test_two_have_not_the_same_twin() -> None:
    left = ComponentFactory()
    ComponentFactory(twin=left)
    with refused():
        ComponentFactory(twin=left)


def test_a_code_is_used_once_in_the_whole_shop() -> None:
    ComponentFactory(code="T01")
    with refused():
        ComponentFactory(code="T01")


def test_a_build_is_live_or_closed() -> None:
    with refused("build_state_known"):
        BuildFactory(state="asleep")


def test_a_part_does_not_lie_under_itself() -> None:
    part = ComponentFactory()
    with refused("cover_is_not_over_itself"):
        CoverFactory(under=part, cover=part)


def test_a_cover_is_said_once_a_route() -> None:
    cover = CoverFactory(route=1)
    CoverFactory(under=cover.under, cover=cover.cover, route=2)
    with refused():
        CoverFactory(under=cover.under, cover=cover.cover, route=1)


@pytest.mark.parametrize(
    ("check", "fields"),
    [
        ("fastening_count_positive", {"count": 0}),
        ("fastening_locker_known", {"locker": "glue"}),
    ],
)
def test_a_fastening_that_cannot_be(check: str, fields: dict[str, Any]) -> None:
    with refused(check):
        FasteningFactory(**fields)
