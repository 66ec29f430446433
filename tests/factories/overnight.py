"""Runs of machines, begun and unsaid."""

from __future__ import annotations

from datetime import timedelta

import factory
from factory.django import DjangoModelFactory

from fabshop.records.overnight import Run
from tests.factories.moment import MOMENT
from tests.factories.shop import MachineFactory, PersonFactory
from tests.factories.task import TaskFactory


class RunFactory(DjangoModelFactory[Run]):
    class Meta:
        model = Run

    task = factory.SubFactory(TaskFactory)
    machine = factory.SubFactory(MachineFactory)
    person = factory.SubFactory(PersonFactory)
    minutes = 540
    begun_at = MOMENT - timedelta(minutes=30)
    due_at = factory.LazyAttribute(lambda o: o.begun_at + timedelta(minutes=o.minutes))
