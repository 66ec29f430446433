"""A posted form is read whole, and everything wrong in it is said at once."""

from datetime import date

import pytest
from django.test import RequestFactory

from fabshop import words
from fabshop.errors import BadInput
from fabshop.web.typed import Typed


def typed(**fields):
    names = {name.replace("__", "-"): value for name, value in fields.items()}
    return Typed(RequestFactory().post("/", names))


def test_fields_are_read_as_what_they_are():
    form = typed(off="1 h 10", on="", eta="2027-09-18", mass="0,5 kg", pts="−3", n="14")
    assert form.minutes("off", "Off") == 70
    assert form.minutes("on", "On") is None
    assert form.day("eta", "Arrives") == date(2027, 9, 18)
    assert form.mass_mg("mass", "Mass") == 500_000
    assert form.points("pts", "Points") == -3
    assert form.milli("n", "Quantity") == 14_000
    form.refuse_if_wrong()


def test_all_that_is_wrong_is_said_at_once_with_the_value_seen():
    form = typed(off="soon", eta="next week")
    form.needed("name", "Name")
    form.minutes("off", "Minutes off")
    form.day("eta", "Arrives")
    with pytest.raises(BadInput) as refused:
        form.refuse_if_wrong()
    assert [error.field for error in refused.value.errors] == ["name", "off", "eta"]
    assert "“soon”" in refused.value.message
    assert "“next week”" in refused.value.message


def test_a_word_that_is_none_is_refused_with_those_that_are():
    form = typed(state="shiny")
    kept = form.choice(
        "state", "State", words.ComponentState, words.ComponentState.FINAL
    )
    assert kept is words.ComponentState.FINAL
    assert "“shiny” is none of missing, stand in" in form.errors[0].message.replace(
        "stand-in", "stand in"
    )


def test_codes_are_those_ticked_and_those_written_each_once():
    form = typed(under=["T08", "T12"], under__codes="T12, T09;T10")
    assert form.codes("under") == ["T08", "T12", "T09", "T10"]


def test_only_rows_with_something_typed_count():
    form = typed(line__0__title="Duct", line__1__title=" ", line__7__quantity="2")
    assert form.rows("line", ("title", "quantity")) == [0, 7]


def test_nul_bytes_do_not_travel():
    assert typed(name="a\0b").text("name", "Name") == "ab"
