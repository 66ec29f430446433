"""Refusals are one line that begins with the path of what is wrong."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from fabshop.errors import BadQuestion
from fabshop.reckoning.questions import parse
from fabshop.reckoning.questions.strict import (
    a_loop,
    minute_of,
    moment_of,
    ordered_windows,
    typed,
)


class Tube(msgspec.Struct, forbid_unknown_fields=True):
    od: float
    name: str = ""


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({}, "od: missing"),
        ({"od": 6, "wal": 1}, "wal: unknown field"),
        ({"od": "6"}, "od: expected a number, got a text"),
        ({"od": True}, "od: expected a number, got true or false"),
        ({"od": 6, "name": None}, "name: expected a text, got nothing (null)"),
        ([], "question: expected an object, got a list"),
    ],
)
def test_a_wrong_shape_is_told_in_our_words(given: Any, told: str) -> None:
    with pytest.raises(BadQuestion) as caught:
        typed(given, Tube)
    assert str(caught.value) == told


@pytest.mark.parametrize(
    ("given", "path"),
    [
        ("\ud800", "question"),
        ({"od": "6\udfff"}, "od"),
        ([{"od": 6}, {"od": "\ud800"}], "[1].od"),
        ({"\ud800": 6}, "question"),
    ],
)
def test_half_a_character_is_refused_where_it_stands(given: Any, path: str) -> None:
    """JSON may hold "\\ud800" alone; msgspec cannot quote it and gave up."""
    with pytest.raises(BadQuestion) as caught:
        typed(given, list[Tube] if isinstance(given, list) else Tube)
    assert str(caught.value).startswith(f"{path}: ")


@pytest.mark.parametrize(
    "moment",
    ["2031-05-05", "2031-05-05T18:00:00", "2031-05-05T18:00Z", "2031-02-30T18:00",
     "2031-05-05T24:00", "2031-05-05 18:00", "", "18:00", "２031-05-05T18:00"],
)  # fmt: skip
def test_a_time_has_minutes_and_no_more(moment: str) -> None:
    with pytest.raises(BadQuestion, match="^ready: "):
        minute_of(moment, "ready")


def test_a_minute_comes_back_as_the_moment_it_was() -> None:
    assert moment_of(minute_of("2031-05-05T18:07")) == "2031-05-05T18:07"


def test_windows_may_touch_but_not_overlap() -> None:
    ordered_windows([("2031-05-05T18:00", "2031-05-05T19:00"),
                     ("2031-05-05T19:00", "2031-05-05T20:00")])  # fmt: skip
    with pytest.raises(BadQuestion, match=r"^windows\[1\]\[0\]: "):
        ordered_windows([("2031-05-05T18:00", "2031-05-05T19:00"),
                         ("2031-05-05T18:59", "2031-05-05T20:00")])  # fmt: skip


def test_the_shortest_loop_is_named_from_its_first_to_itself() -> None:
    assert a_loop([[1], [2], [0], [3]]) == [3, 3]
    assert a_loop([[1], [2], [0]]) == [0, 1, 2, 0]
    assert a_loop([[], [0], [0, 1]]) == []


def test_an_unknown_kind_names_the_kinds_there_are() -> None:
    with pytest.raises(BadQuestion, match="^kind: no question 'tearup'; .*teardown"):
        parse("tearup", {})
