"""Everything with a code and a place is found by any of its words."""

from __future__ import annotations

from datetime import timedelta

import pytest
from pytest_django import DjangoAssertNumQueries

from fabshop import words
from fabshop.records.packout import Spare
from fabshop.snapshot.where import where
from tests.factories import (
    MOMENT,
    ComponentFactory,
    ConsumableFactory,
    CutFactory,
    LogEntryFactory,
    OrderFactory,
    PersonFactory,
    PieceCountFactory,
    PieceFactory,
    TrayFactory,
)

pytestmark = pytest.mark.django_db


def test_every_kind_of_thing_is_found_with_its_place() -> None:
    ComponentFactory(code="T10", name="Dash plate", is_on=False, place="box 3")
    PieceFactory(code="M08", place="rack 2", note="plate side up")
    ConsumableFactory(code="C09", name="Plate cleaner", place="cupboard")
    TrayFactory(code="F01", size="M3×8 BH", place="tray plate")
    Spare.objects.create(code="SP2", title="Plate, spare", place="case 2")
    OrderFactory(
        code="P07", title="Plates", move=words.Move.ME, supplier__name="Ferrow"
    )
    found = {one.code: (one.kind, one.place) for one in where("plate")}
    assert found == {
        "T10": ("component", "box 3"),
        "M08": ("tube", "rack 2"),
        "C09": ("consumable", "cupboard"),
        "F01": ("tray", "tray plate"),
        "SP2": ("spare", "case 2"),
        "P07": ("order", "with me, not sent to Ferrow"),
    }


def test_what_is_called_just_that_comes_first_and_all_words_must_fit() -> None:
    PieceFactory(code="M1")
    PieceFactory(code="M10")
    assert [one.code for one in where("m1")][0] == "M1"
    assert where("m1 titanium") == ()
    assert where(" \0 ") == ()


def test_a_part_on_its_build_is_there_and_one_without_a_place_says_nothing() -> None:
    on = ComponentFactory(code="T02", build__name="Tuppence")
    ComponentFactory(code="T03", build=on.build, is_on=False, place="")
    places = {one.code: one.place for one in where("t0")}
    assert places == {"T02": "on Tuppence", "T03": ""}


def test_the_last_who_had_it_in_hand_is_named() -> None:
    anna, bo = PersonFactory(name="Anna"), PersonFactory(name="Bo")
    piece = PieceFactory(code="M08")
    CutFactory(piece=piece, person=anna, at=MOMENT)
    PieceCountFactory(piece=piece, person=bo, at=MOMENT + timedelta(hours=1))
    part = ComponentFactory(code="T10")
    LogEntryFactory(component=part, person=anna, at=MOMENT)
    seen = {
        one.code: (one.seen_by, one.seen_at) for one in (*where("M08"), *where("T10"))
    }
    assert seen["M08"] == ("Bo", MOMENT + timedelta(hours=1))
    assert seen["T10"] == ("Anna", MOMENT)


def test_it_takes_as_many_queries_for_twenty_as_for_one(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    PieceFactory(code="M100")
    with django_assert_num_queries(8) as first:
        where("M1")
    for number in range(20):
        PieceFactory(code=f"M1{number:02}x")
    with django_assert_num_queries(len(first)):
        where("M1")
