"""Spares, and the places they fit."""

from __future__ import annotations

import factory
from factory.django import DjangoModelFactory

from fabshop.records.packout import Spare, SpareFit
from tests.factories.build import ComponentFactory


class SpareFactory(DjangoModelFactory[Spare]):
    class Meta:
        model = Spare

    code = factory.Sequence(lambda n: f"SP{n + 1}")
    title = "Old drive pod"


class SpareFitFactory(DjangoModelFactory[SpareFit]):
    class Meta:
        model = SpareFit

    spare = factory.SubFactory(SpareFactory)
    component = factory.SubFactory(ComponentFactory)
