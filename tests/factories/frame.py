"""Factories of tube frames."""

from __future__ import annotations

import factory
from factory.django import DjangoModelFactory

from fabshop import words
from fabshop.records import frame
from tests.factories.build import BuildFactory
from tests.factories.moment import MOMENT
from tests.factories.shop import PersonFactory


class FrameFactory(DjangoModelFactory[frame.Frame]):
    class Meta:
        model = frame.Frame

    build = factory.SubFactory(BuildFactory)
    code = factory.Sequence(lambda n: f"frame-{n}")
    name = factory.Sequence(lambda n: f"Frame {n}")
    made_at = MOMENT


class NodeFactory(DjangoModelFactory[frame.Node]):
    class Meta:
        model = frame.Node

    frame = factory.SubFactory(FrameFactory)
    code = factory.Sequence(lambda n: f"N{n}")
    x_um = factory.Sequence(lambda n: 100_000 * n)
    y_um = 0
    z_um = 0


class TubeFactory(DjangoModelFactory[frame.Tube]):
    class Meta:
        model = frame.Tube

    frame = factory.SubFactory(FrameFactory)
    mark = factory.Sequence(lambda n: f"F{n}")
    start = factory.SubFactory(NodeFactory, frame=factory.SelfAttribute("..frame"))
    end = factory.SubFactory(NodeFactory, frame=factory.SelfAttribute("..frame"))
    od_um = 8_000
    wall_um = 900


class TubeEndFactory(DjangoModelFactory[frame.TubeEnd]):
    class Meta:
        model = frame.TubeEnd

    tube = factory.SubFactory(TubeFactory)
    which = 1
    kind = words.EndKind.THROUGH


class BendFactory(DjangoModelFactory[frame.Bend]):
    class Meta:
        model = frame.Bend

    tube = factory.SubFactory(TubeFactory)
    number = 1
    node = factory.SubFactory(NodeFactory, frame=factory.SelfAttribute("..tube.frame"))
    radius_um = 20_000


class PrintFitFactory(DjangoModelFactory[frame.PrintFit]):
    class Meta:
        model = frame.PrintFit

    person = factory.SubFactory(PersonFactory)
    at = MOMENT
