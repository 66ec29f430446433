import pytest

from fabshop import words
from fabshop.actions.build import changed_since, refuse_closed
from fabshop.actions.build.change import locked, said
from fabshop.errors import Clash
from fabshop.records.build import Component
from tests.factories import BuildFactory, ComponentFactory


def test_only_what_is_new_is_written() -> None:
    part = Component(code="T05", name="Front lid", place="shelf", version=3)
    given = {"name": "Front lid", "place": "bench"}
    assert changed_since(part, given, 3) == {"place": "bench"}
    assert changed_since(part, given, None) == {"place": "bench"}


def test_a_clash_shows_both_values_of_each_field() -> None:
    part = Component(code="T05", name="Lid", place="", off_minutes=None, version=3)
    given = {"name": "Front lid", "place": "shelf", "off_minutes": 4}
    with pytest.raises(Clash) as refused:
        changed_since(part, given, 2)
    assert refused.value.message == (
        "T05 has changed since you opened it. "
        "Name: you wrote “Front lid”, by now it reads “Lid”. "
        "Place: you wrote “shelf”, by now it reads nothing. "
        "Off minutes: you wrote “4”, by now it reads nothing. "
        "Save again to keep yours."
    )
    assert [error.field for error in refused.value.errors] == [
        "name",
        "place",
        "off_minutes",
    ]


def test_writing_what_the_other_wrote_too_is_no_clash() -> None:
    part = Component(code="T05", name="Front lid", version=3)
    assert changed_since(part, {"name": "Front lid"}, 2) == {}


def test_yes_and_no_are_said_as_such() -> None:
    assert (said(True), said(False)) == ("yes", "no")


@pytest.mark.django_db
def test_a_closed_build_is_read_not_changed() -> None:
    part = ComponentFactory(
        build=BuildFactory(name="Sparrow", state=words.BuildState.CLOSED)
    )
    with pytest.raises(Clash, match="Sparrow is closed: it is read, not changed"):
        refuse_closed(part.build)
    with pytest.raises(Clash, match="Sparrow is closed"):
        locked(part)


@pytest.mark.django_db
def test_a_retired_part_is_not_changed() -> None:
    part = ComponentFactory(
        code="T05", name="Lid", state=words.ComponentState.RETIRED, is_on=False
    )
    with pytest.raises(Clash, match="T05 Lid is retired"):
        locked(part)
