"""Every fixed word can be stored, shown and stamped."""

from __future__ import annotations

import re

import pytest

from fabshop import words

KINDS = [
    kind
    for kind in vars(words).values()
    if isinstance(kind, type) and issubclass(kind, words.Word) and kind != words.Word
]


@pytest.mark.parametrize("kind", KINDS)
def test_every_word_is_stored_as_a_slug_and_shown_as_words(
    kind: type[words.Word],
) -> None:
    for word in kind:
        assert re.fullmatch(r"[A-Za-z0-9-]*", word.value), word
        assert "_" not in word.label
        # What is empty is not shown at all.
        assert bool(word.label) == bool(word.value), word


@pytest.mark.parametrize("kind", KINDS)
def test_no_two_words_of_a_kind_look_the_same(kind: type[words.Word]) -> None:
    labels = [label for _, label in kind.choices()]
    assert len(set(labels)) == len(labels)


@pytest.mark.parametrize("kind", KINDS)
def test_every_stamp_has_one_of_the_four_edges(kind: type[words.Word]) -> None:
    assert {word.edge for word in kind} <= {"solid", "dashed", "double", "hatched"}


def test_why_a_task_cannot_be_done_is_told_apart_by_more_than_its_word() -> None:
    assert len({word.edge for word in words.Why}) > 1


def test_a_state_is_shown_as_the_shop_says_it() -> None:
    assert words.ComponentState.STAND_IN.label == "stand-in"
    assert words.TaskState.UNDER_WAY.label == "under way"
