"""What differs between two answers is said by step number, not by time."""

from __future__ import annotations

import pytest

from fabshop import words
from fabshop.reckoning.batching import destroyed, steps_that_differ
from tests.reckoning.facts_for import component, shop


def answer(*sessions):
    """Sessions of single-letter removals, or tasks where the letter is a capital."""
    return {
        "sessions": [
            {
                "steps": [
                    {"do": "task" if s.isupper() else "remove", "id": s} for s in one
                ]
            }
            for one in sessions
        ]
    }


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ("abCde", "abCde", ""),
        ("abCde", "abXde", "step 3 differs"),
        ("abCde", "aCbde", "steps 2 to 3 differ"),
        ("abCde", "edCba", "steps 1 to 5 differ"),
        ("abCde", "abCd", "step 5 differs"),
        ("abCde", "a", "steps 2 to 5 differ"),
        ("abCde", "abCdeF", "1 step more at the end"),
        ("abCde", "abxyCde", "2 steps more before step 3"),
        ("aaa", "aa", "step 3 differs"),
        ("abcdefgh", "bcdefgah", "step 1 differs; 1 step more before step 8"),
        ("abcdefgh", "xbcdefgy", "steps 1 and 8 differ"),
        ("abcdefghijklm", "xbcdeyyyijklz", "steps 1, 6 to 8 and 13 differ"),
        ("", "ab", "2 steps more at the end"),
        ("ab", "", "steps 1 to 2 differ"),
    ],
)
def test_only_the_steps_that_differ_are_named(old, new, sentence):
    assert steps_that_differ(answer(old), answer(new)) == sentence


def test_steps_are_numbered_through_all_sessions():
    assert steps_that_differ(answer("ab", "cd"), answer("ab", "cX")) == "step 4 differs"


def test_the_same_id_put_on_is_another_step_than_taken_off():
    other = {"sessions": [{"steps": [{"do": "refit", "id": "a"}]}]}
    assert steps_that_differ(answer("a"), other) == "step 1 differs"


def test_what_is_taken_off_by_cutting_it_out_is_named():
    cowl = component("c", for_good=True, state=words.ComponentState.FINAL)
    dry = component("d", for_good=True, state=words.ComponentState.DRY_FIT)
    facts = shop([], [cowl, dry, component("a")])
    assert destroyed(facts, answer("acd", "C")) == ("c",)
