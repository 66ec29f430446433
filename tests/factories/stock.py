"""Factories of the rack: materials, pieces, wishes, lists and cuts."""

from __future__ import annotations

import factory
from factory.django import DjangoModelFactory

from fabshop import words
from fabshop.records import stock
from tests.factories.moment import MOMENT, client_id
from tests.factories.shop import PersonFactory
from tests.factories.task import TaskFactory


class MaterialFactory(DjangoModelFactory[stock.Material]):
    class Meta:
        model = stock.Material
        django_get_or_create = ("code",)

    code = "304"
    name = "Stainless 304"
    family = "stainless"
    density_mg_cm3 = 8000
    source = "a table"


class PieceFactory(DjangoModelFactory[stock.Piece]):
    """A metre of 8 × 1 tube of a known lot."""

    class Meta:
        model = stock.Piece

    code = factory.Sequence(lambda n: f"M{n:02}")
    form = words.PieceForm.TUBE
    material = factory.SubFactory(MaterialFactory)
    od_um = 8000
    wall_um = 1000
    length_um = 1_000_000
    heat_lot = "7K214"
    place = "rack 2"
    came_at = MOMENT


class ReservationFactory(DjangoModelFactory[stock.Reservation]):
    class Meta:
        model = stock.Reservation

    piece = factory.SubFactory(PieceFactory)
    task = factory.SubFactory(TaskFactory)
    length_um = 218_000
    person = factory.SubFactory(PersonFactory)
    at = MOMENT


class PieceCountFactory(DjangoModelFactory[stock.PieceCount]):
    class Meta:
        model = stock.PieceCount

    piece = factory.SubFactory(PieceFactory)
    length_was_um = 1_000_000
    length_seen_um = 1_000_000
    length_difference_um = 0
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    client_id = client_id()


class CutWishFactory(DjangoModelFactory[stock.CutWish]):
    class Meta:
        model = stock.CutWish

    code = factory.Sequence(lambda n: f"L{n:02}")
    title = "header bar"
    material = factory.SubFactory(MaterialFactory)
    form = words.PieceForm.TUBE
    od_um = 8000
    wall_um = 1000
    length_um = 212_000
    is_frame = True
    made_at = MOMENT


class CutListFactory(DjangoModelFactory[stock.CutList]):
    class Meta:
        model = stock.CutList

    number = factory.Sequence(lambda n: n + 1)
    kerf_um = 1200
    dressing_um = 1000
    keep_over_um = 15_000
    answer = factory.LazyFunction(lambda: {"groups": []})
    person = factory.SubFactory(PersonFactory)
    made_at = MOMENT


class CutMarkFactory(DjangoModelFactory[stock.CutMark]):
    class Meta:
        model = stock.CutMark

    cut_list = factory.SubFactory(CutListFactory)
    piece = factory.SubFactory(PieceFactory)
    number = factory.Sequence(lambda n: n)
    wish = factory.SubFactory(CutWishFactory)
    mark = factory.Sequence(lambda n: f"L{n:02}a")
    part_um = 214_000
    kerf_um = 1200
    left_um = 784_800


class CutFactory(DjangoModelFactory[stock.Cut]):
    class Meta:
        model = stock.Cut

    piece = factory.SubFactory(PieceFactory)
    before = 1_000_000
    part = 218_000
    kerf = 1200
    left = 780_800
    person = factory.SubFactory(PersonFactory)
    at = MOMENT
    client_id = client_id()
