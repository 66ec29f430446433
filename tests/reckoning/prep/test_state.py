"""Where a joint may go, and what must be done before."""

from __future__ import annotations

import pytest

from fabshop.reckoning.prep import must_be_ready, ways_on
from fabshop.words import JointState, PrepStage


def test_the_next_state_is_offered_first() -> None:
    assert ways_on(JointState.PLANNED)[0] is JointState.COPED
    assert ways_on(JointState.TACKED)[0] is JointState.WELDED
    assert ways_on(JointState.REWORK)[0] is JointState.TACKED


@pytest.mark.parametrize("state", list(JointState))
def test_no_tap_accepts_or_rejects(state: JointState) -> None:
    assert not {JointState.ACCEPTED, JointState.REWORK, state} & set(ways_on(state))


def test_what_is_welded_is_not_put_back_by_a_tap() -> None:
    assert ways_on(JointState.WELDED) == ways_on(JointState.ACCEPTED) == ()
    assert JointState.PLANNED in ways_on(JointState.TACKED)


def test_each_state_asks_for_the_stops_up_to_it() -> None:
    assert must_be_ready(JointState.COPED) is None
    assert must_be_ready(JointState.TACKED) is PrepStage.TACK
    assert must_be_ready(JointState.WELDED) is PrepStage.WELD
    assert must_be_ready(JointState.ACCEPTED) is PrepStage.LOOK
