"""Factories of the shelf: consumables, trays, what moved and what was overruled."""

from __future__ import annotations

from datetime import date

import factory
from factory.django import DjangoModelFactory

from fabshop import words
from fabshop.records import shelf
from tests.factories.moment import MOMENT, client_id
from tests.factories.order import OrderLineFactory
from tests.factories.shop import PersonFactory
from tests.factories.task import TaskFactory


class ConsumableFactory(DjangoModelFactory[shelf.Consumable]):
    """Grams of a resin that keeps until well after the moment of the tests."""

    class Meta:
        model = shelf.Consumable

    code = factory.Sequence(lambda n: f"C{n:02}")
    name = "Slow epoxy"
    unit = words.ShelfUnit.GRAM
    use_by_on = date(2027, 12, 31)
    place = "cold shelf"


class TrayFactory(DjangoModelFactory[shelf.Tray]):
    class Meta:
        model = shelf.Tray

    code = factory.Sequence(lambda n: f"F{n:02}")
    size = "M3×8 BH"
    place = "drawer 1"


class ShelfMoveFactory(DjangoModelFactory[shelf.ShelfMove]):
    """Two hundred grams that came in."""

    class Meta:
        model = shelf.ShelfMove

    consumable = factory.SubFactory(ConsumableFactory)
    kind = words.MoveKind.CAME
    change_milli = 200_000
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    client_id = client_id()


class ShelfSupplyFactory(DjangoModelFactory[shelf.ShelfSupply]):
    class Meta:
        model = shelf.ShelfSupply

    line = factory.SubFactory(OrderLineFactory)
    tray = factory.SubFactory(TrayFactory)


class ShelfWaiverFactory(DjangoModelFactory[shelf.ShelfWaiver]):
    class Meta:
        model = shelf.ShelfWaiver

    consumable = factory.SubFactory(ConsumableFactory)
    task = factory.SubFactory(TaskFactory)
    last_good_on = date(2027, 8, 31)
    reason = "test piece set hard"
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    client_id = client_id()
