"""Where a joint may go from where it is, and which steps must be done before."""

from __future__ import annotations

from fabshop import words

_State = words.JointState
# On the way there nothing is skipped but what a shop did not write down.
_WAY = (_State.PLANNED, _State.COPED, _State.DRY_FIT, _State.TACKED, _State.WELDED)


def ways_on(state: words.JointState) -> tuple[words.JointState, ...]:
    """The states that a tap may put a joint into, the next one first.

    Onwards as far as welded; what is not welded may go back to be made anew. Being
    accepted is the owner's word, and rework is what a rejection makes.
    """
    if state in (_State.WELDED, _State.ACCEPTED):
        return ()
    if state is _State.REWORK:
        return (_State.TACKED, _State.WELDED, _State.COPED, _State.DRY_FIT)
    place = _WAY.index(state)
    return (*_WAY[place + 1 :], *reversed(_WAY[:place]))


def must_be_ready(state: words.JointState) -> words.PrepStage | None:
    """Up to which stage every stop step must be done before a joint gets there."""
    return {
        _State.TACKED: words.PrepStage.TACK,
        _State.WELDED: words.PrepStage.WELD,
        _State.ACCEPTED: words.PrepStage.LOOK,
    }.get(state)
