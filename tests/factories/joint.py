"""Joints, checklists and colour calls, with the smallest truth the records accept."""

from __future__ import annotations

import factory
from factory.django import DjangoModelFactory

from fabshop import words
from fabshop.records.joint import (
    ColourCall,
    ColourRow,
    ColourTable,
    Joint,
    JointCover,
    JointMove,
    PrepRun,
    PrepStep,
    PrepTemplate,
    PrepTick,
)
from tests.factories.build import BuildFactory
from tests.factories.moment import MOMENT
from tests.factories.shop import PersonFactory
from tests.factories.task import TaskFactory


class JointFactory(DjangoModelFactory[Joint]):
    class Meta:
        model = Joint

    code = factory.Sequence(lambda n: f"J{n + 100}")
    build = factory.SubFactory(BuildFactory)
    name = "Hoop foot"
    metal = words.Metal.STAINLESS
    material = "304"
    cut_od_um = 8000
    cut_wall_um = 1000
    onto_od_um = 8000
    angle_mdeg = 78_400
    cut_heat_lot = "7K214"
    onto_heat_lot = "7K214"


class JointCoverFactory(DjangoModelFactory[JointCover]):
    class Meta:
        model = JointCover

    joint = factory.SubFactory(JointFactory)
    task = factory.SubFactory(TaskFactory)


class JointMoveFactory(DjangoModelFactory[JointMove]):
    class Meta:
        model = JointMove

    joint = factory.SubFactory(JointFactory)
    was = words.JointState.PLANNED
    state = words.JointState.COPED
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    client_id = factory.Sequence(lambda n: f"joint-move-{n}")


class PrepTemplateFactory(DjangoModelFactory[PrepTemplate]):
    class Meta:
        model = PrepTemplate

    metal = words.Metal.STAINLESS
    version = factory.Sequence(lambda n: n + 1)
    made_at = MOMENT


class PrepStepFactory(DjangoModelFactory[PrepStep]):
    class Meta:
        model = PrepStep

    template = factory.SubFactory(PrepTemplateFactory)
    number = factory.Sequence(lambda n: n + 1)
    text = "Degreased"
    stage = words.PrepStage.TACK
    kind = words.PrepKind.TICK
    is_stop = True
    source = "own practice"


class PrepRunFactory(DjangoModelFactory[PrepRun]):
    class Meta:
        model = PrepRun

    joint = factory.SubFactory(JointFactory)
    template = factory.SubFactory(PrepTemplateFactory)
    begun_at = MOMENT


class PrepTickFactory(DjangoModelFactory[PrepTick]):
    class Meta:
        model = PrepTick

    run = factory.SubFactory(PrepRunFactory)
    step = factory.SubFactory(PrepStepFactory)
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    client_id = factory.Sequence(lambda n: f"prep-tick-{n}")


class ColourTableFactory(DjangoModelFactory[ColourTable]):
    class Meta:
        model = ColourTable

    metal = words.Metal.STAINLESS
    name = "Our own samples"
    source = "Sample board over the bench"
    made_at = MOMENT
    person = factory.SubFactory(PersonFactory)


class ColourRowFactory(DjangoModelFactory[ColourRow]):
    class Meta:
        model = ColourRow

    table = factory.SubFactory(ColourTableFactory)
    colour = words.Colour.SILVER
    verdict = words.Verdict.ACCEPT


class ColourCallFactory(DjangoModelFactory[ColourCall]):
    class Meta:
        model = ColourCall

    joint = factory.SubFactory(JointFactory)
    colour = words.Colour.SILVER
    judged = words.Verdict.ACCEPT
    verdict = words.Verdict.ACCEPT
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    client_id = factory.Sequence(lambda n: f"colour-call-{n}")
