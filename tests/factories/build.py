"""Factories of builds and the places on them."""

from __future__ import annotations

from datetime import UTC, date, datetime

import factory
from factory.django import DjangoModelFactory

from fabshop.records import build
from tests.factories.moment import MOMENT, letters


class BuildFactory(DjangoModelFactory[build.Build]):
    class Meta:
        model = build.Build

    slug = factory.Sequence(lambda n: f"build-{n}")
    letter = factory.Sequence(letters)
    name = factory.Sequence(lambda n: f"Build {n}")
    event_on = date(2027, 9, 24)
    pack_out_at = datetime(2027, 9, 22, 11, 0, tzinfo=UTC)
    made_at = MOMENT


class ComponentFactory(DjangoModelFactory[build.Component]):
    class Meta:
        model = build.Component

    build = factory.SubFactory(BuildFactory)
    code = factory.Sequence(lambda n: f"C{n:02}")
    name = factory.Sequence(lambda n: f"Component {n}")
    off_minutes = 5
    on_minutes = 7


class FasteningFactory(DjangoModelFactory[build.Fastening]):
    class Meta:
        model = build.Fastening

    component = factory.SubFactory(ComponentFactory)
    count = 4
    size = "M3×8 BH"


class CoverFactory(DjangoModelFactory[build.Cover]):
    class Meta:
        model = build.Cover

    under = factory.SubFactory(ComponentFactory)
    cover = factory.SubFactory(
        ComponentFactory, build=factory.SelfAttribute("..under.build")
    )
