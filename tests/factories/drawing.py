"""Factories of drawings, measured checks and what was decided on them."""

from __future__ import annotations

import factory
from factory.django import DjangoModelFactory

from fabshop import words
from fabshop.records import drawing
from tests.factories.moment import MOMENT, client_id
from tests.factories.order import OrderLineFactory, SendingFactory


class DrawingFactory(DjangoModelFactory[drawing.Drawing]):
    class Meta:
        model = drawing.Drawing

    line = factory.SubFactory(OrderLineFactory)
    revision = "A"
    file_name = "part.dxf"
    file = "drawings/00/0.dxf"
    digest = factory.Sequence(lambda n: f"{n:064x}")
    size_bytes = 1000
    at = MOMENT
    client_id = client_id()


class DrawingSentFactory(DjangoModelFactory[drawing.DrawingSent]):
    class Meta:
        model = drawing.DrawingSent

    drawing = factory.SubFactory(DrawingFactory)
    sending = factory.SubFactory(SendingFactory)


class MeasuredCheckFactory(DjangoModelFactory[drawing.MeasuredCheck]):
    class Meta:
        model = drawing.MeasuredCheck

    line = factory.SubFactory(OrderLineFactory)
    label = "width"
    tolerance = words.Tolerance.MEDIUM
    nominal_um = 40_000
    lower_um = -300
    upper_um = 300
    reading_um = 40_000
    verdict = words.CheckVerdict.WITHIN
    source = "ISO 2768-1"
    at = MOMENT
    client_id = client_id()


class CheckDecisionFactory(DjangoModelFactory[drawing.CheckDecision]):
    class Meta:
        model = drawing.CheckDecision

    check_made = factory.SubFactory(MeasuredCheckFactory)
    how = words.CheckDecision.ACCEPTED
    at = MOMENT
    client_id = client_id()
