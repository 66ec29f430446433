"""What a stop says of the time in hand: S2 of the phone scenarios."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from fabshop import words
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.in_hand import PlannedWork, in_hand_sentence
from fabshop.reckoning.tonight import TeardownStand
from tests.reckoning.facts_for import at, build, evenings, shop, task

NOTHING = PlannedWork()
STAND = TeardownStand("buggy", "Buggy", at(3, 19), 57)


def before(**said: object) -> Facts:
    """Three evenings 18 to 21, pack-out at the end; A of two hours, then B of one."""
    return shop(
        [task("A", minutes=120, **said), task("B", minutes=60, after="A")],
        builds=(build(pack_out=at(2, 22)),),
        windows=evenings(3),
        past_windows=(),
    )


def later(facts: Facts, *, hours: int, left: int | None) -> Facts:
    """The shop so many hours on; None: A is done."""
    state = words.TaskState.DONE if left is None else words.TaskState.UNDER_WAY
    tasks = tuple(
        replace(one, left=left, state=state) if one.id == "A" else one
        for one in facts.tasks
    )
    return replace(facts, tasks=tasks, now=facts.now + timedelta(hours=hours))


def said(facts: Facts, after: Facts, plans: PlannedWork = NOTHING) -> str:
    return in_hand_sentence(facts, after, "A", began=facts.now, plans=plans)


@pytest.mark.parametrize(
    ("left", "sentence"),
    [
        # Nine hours of bench less A's two and B's one.
        (60, "6 h in hand, as before, before it must go on."),
        (90, "6 h → 5 h 30 in hand before it must go on."),
        (30, "6 h → 6 h 30 in hand before it must go on."),
        (None, "6 h → 7 h in hand before what follows must go on."),
    ],
)
def test_an_hour_worked_moves_it_by_what_is_left_beside_the_guess(
    left: int | None, sentence: str
) -> None:
    facts = replace(before(), now=at(0, 18))
    assert said(facts, later(facts, hours=1, left=left)) == sentence


def test_of_an_accepted_teardown_it_is_the_teardowns() -> None:
    facts = before()
    plans = PlannedWork([STAND], {"A": at(1, 18)}, {"A": 120})
    after = later(facts, hours=1, left=136)
    assert said(facts, after, plans) == (
        "57 min → 41 min in hand for the teardown of Buggy."
    )
    assert said(facts, later(facts, hours=1, left=200), plans) == (
        "57 min → 23 min too late for the teardown of Buggy."
    )


def test_of_a_teardown_that_is_begun_the_task_itself_is_told() -> None:
    facts = replace(before(), now=at(0, 18))
    begun = replace(STAND, has_begun=True)
    plans = PlannedWork([begun], {"B": at(1, 18)}, {"A": 120})
    # B is planned for the second evening, so A must be done on the first.
    assert said(facts, later(facts, hours=1, left=60), plans) == (
        "1 h in hand, as before, before it must go on."
    )


def test_without_a_pack_out_or_of_what_is_gone_nothing_is_said() -> None:
    facts = replace(before(), builds=(build(pack_out=None),))
    assert said(facts, later(facts, hours=1, left=60)) == ""
    known = before()
    sentence = in_hand_sentence(known, known, "gone", began=known.now, plans=NOTHING)
    assert sentence == ""
