"""Factories of tasks and all that belongs to them."""

from __future__ import annotations

import factory
from factory.django import DjangoModelFactory

from fabshop import words
from fabshop.records import task
from tests.factories.build import BuildFactory, ComponentFactory
from tests.factories.moment import MOMENT, client_id
from tests.factories.order import OrderLineFactory
from tests.factories.shop import PersonFactory


class TaskFactory(DjangoModelFactory[task.Task]):
    class Meta:
        model = task.Task

    code = factory.Sequence(lambda n: f"W{n:02}")
    build = factory.SubFactory(BuildFactory)
    title = factory.Sequence(lambda n: f"Task {n}")


class StageFactory(DjangoModelFactory[task.Stage]):
    class Meta:
        model = task.Stage

    task = factory.SubFactory(TaskFactory)
    number = 1
    kind = words.StageKind.HANDS_ON
    minutes = 60


class EstimateFactory(DjangoModelFactory[task.Estimate]):
    class Meta:
        model = task.Estimate

    task = factory.SubFactory(TaskFactory)
    minutes = 60
    made_at = MOMENT


class AfterFactory(DjangoModelFactory[task.After]):
    class Meta:
        model = task.After

    task = factory.SubFactory(TaskFactory)
    before = factory.SubFactory(
        TaskFactory, build=factory.SelfAttribute("..task.build")
    )


class NeedFactory(DjangoModelFactory[task.Need]):
    class Meta:
        model = task.Need

    task = factory.SubFactory(TaskFactory)
    kind = words.NeedKind.ORDER
    line = factory.SubFactory(OrderLineFactory)


class SiteFactory(DjangoModelFactory[task.Site]):
    class Meta:
        model = task.Site

    task = factory.SubFactory(TaskFactory)
    component = factory.SubFactory(
        ComponentFactory, build=factory.SelfAttribute("..task.build")
    )
    kind = words.SiteKind.FITS


class FallbackFactory(DjangoModelFactory[task.Fallback]):
    class Meta:
        model = task.Fallback

    task = factory.SubFactory(TaskFactory)
    title = "Leave the old one on"
    minutes = 30


class ReadingFactory(DjangoModelFactory[task.Reading]):
    class Meta:
        model = task.Reading

    task = factory.SubFactory(TaskFactory, is_hold=True)
    number = 1
    label = "Motor turns"
    kind = words.ReadingKind.TICK


class ReadingTakenFactory(DjangoModelFactory[task.ReadingTaken]):
    class Meta:
        model = task.ReadingTaken

    reading = factory.SubFactory(ReadingFactory)
    value = 1
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    client_id = client_id()


class HoldSigningFactory(DjangoModelFactory[task.HoldSigning]):
    class Meta:
        model = task.HoldSigning

    task = factory.SubFactory(TaskFactory, is_hold=True)
    verdict = words.HoldVerdict.SIGNED
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    client_id = client_id()
