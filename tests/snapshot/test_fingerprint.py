"""A fingerprint of facts: the same while they say the same."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date, datetime

from freezegun.api import FakeDate, FakeDatetime

from fabshop import words
from fabshop.snapshot.fingerprint import fingerprint


@dataclass(frozen=True)
class Fact:
    id: str
    at: datetime
    says: tuple[str, ...] = ()
    more: dict[str, int] = field(default_factory=dict)


FACT = Fact("W1", datetime(2027, 9, 3, 6, 45))


def test_a_frozen_clock_changes_nothing():
    fake = replace(FACT, at=FakeDatetime(2027, 9, 3, 6, 45))
    assert fingerprint(fake) == fingerprint(FACT)
    assert fingerprint(FakeDate(2027, 9, 3)) == fingerprint(date(2027, 9, 3))


def test_whatever_is_said_counts():
    others = [
        replace(FACT, id="W2"),
        replace(FACT, at=datetime(2027, 9, 3, 6, 46)),
        replace(FACT, says=("a",)),
        replace(FACT, more={"a": 1}),
        [FACT],
    ]
    prints = {fingerprint(one) for one in [FACT, *others]}
    assert len(prints) == 6
    assert fingerprint(("ab", "c")) != fingerprint(("a", "bc"))
    assert fingerprint([1, [2]]) != fingerprint([[1], 2])


def test_a_new_field_that_says_nothing_is_no_change():
    @dataclass(frozen=True)
    class Later:
        id: str
        at: datetime
        says: tuple[str, ...] = ()
        more: dict[str, int] = field(default_factory=dict)
        wished: bool = False

    Later.__name__ = "Fact"
    assert fingerprint(Later("W1", FACT.at)) == fingerprint(FACT)
    assert fingerprint(Later("W1", FACT.at, wished=True)) != fingerprint(FACT)


def test_words_count_by_their_value_and_sets_in_any_order():
    assert fingerprint(words.TaskState.OPEN) == fingerprint(str(words.TaskState.OPEN))
    assert fingerprint({"b", "a"}) == fingerprint(frozenset(["a", "b"]))
    assert fingerprint({"b": 1, "a": 2}) == fingerprint({"a": 2, "b": 1})
