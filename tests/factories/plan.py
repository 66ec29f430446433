"""Factories of plans, their steps and ticks."""

from __future__ import annotations

from datetime import timedelta

import factory
from factory.django import DjangoModelFactory

from fabshop import words
from fabshop.records import plan
from tests.factories.build import BuildFactory, ComponentFactory
from tests.factories.moment import MOMENT, client_id
from tests.factories.shop import PersonFactory


class PlanFactory(DjangoModelFactory[plan.Plan]):
    class Meta:
        model = plan.Plan

    build = factory.SubFactory(BuildFactory)
    asked = factory.LazyFunction(lambda: {"max_sessions": 1})
    question = factory.LazyFunction(lambda: {"windows": [], "tasks": []})
    answer = factory.LazyFunction(lambda: {"sessions": []})
    digest = "0" * 64
    made_by = factory.SubFactory(PersonFactory)
    made_at = MOMENT


class PlanStepFactory(DjangoModelFactory[plan.PlanStep]):
    class Meta:
        model = plan.PlanStep

    plan = factory.SubFactory(PlanFactory)
    number = factory.Sequence(lambda n: n % 30_000 + 1)
    does = words.StepDo.REMOVE
    component = factory.SubFactory(
        ComponentFactory, build=factory.SelfAttribute("..plan.build")
    )
    minutes = 5
    starts_at = MOMENT
    ends_at = MOMENT + timedelta(minutes=5)


class StepTickFactory(DjangoModelFactory[plan.StepTick]):
    class Meta:
        model = plan.StepTick

    step = factory.SubFactory(PlanStepFactory)
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    server_at = MOMENT
    client_id = client_id()
