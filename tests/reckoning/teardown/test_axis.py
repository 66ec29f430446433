"""Worked minutes against a walk along every minute of the clock."""

from __future__ import annotations

import random

import pytest

from fabshop.reckoning.teardown.axis import Axis


def test_where_two_windows_meet_a_start_is_later_and_an_end_earlier() -> None:
    axis = Axis([(0, 60), (100, 160)], 150)
    assert axis.length == 110
    assert (axis.end_clock(60), axis.start_clock(60)) == (60, 100)


def test_no_hours_is_an_axis_of_no_length() -> None:
    axis = Axis([(0, 60)], 0)
    assert (axis.length, axis.position_from(0), axis.last_position_by(0)) == (0, 1, -1)


def test_a_cure_that_ends_as_a_window_begins_holds_nothing_up() -> None:
    axis = Axis([(0, 60), (100, 160)], 160)
    assert axis.cured_from(40, 60) == 60
    assert axis.last_end_before(60, 60) == 40


def test_nothing_is_cured_for_work_after_the_last_window() -> None:
    axis = Axis([(0, 60)], 500)
    assert axis.position_from(60) == 60
    assert axis.position_from(61) == 61 == axis.length + 1


@pytest.mark.parametrize("seed", range(150))
def test_the_axis_agrees_with_a_walk_along_the_clock(seed: int) -> None:
    chance = random.Random(seed)
    now, windows = chance.randint(0, 20), []
    for _ in range(chance.randint(1, 5)):
        now += chance.choice((0, 1, 5, 9))
        windows.append((now, now := now + chance.randint(1, 9)))
    axis = Axis(windows, chance.randint(windows[0][0] + 1, now + 15))
    cure = chance.randint(1, 30)
    positions = range(axis.length + 1)

    def moments(position: int) -> set[int]:
        later = {axis.start_clock(position)} if position < axis.length else set()
        return later | ({axis.end_clock(position)} if position else set())

    for clock in range(now + 20):
        can = [p for p in positions if any(m >= clock for m in moments(p))]
        assert axis.position_from(clock) == min(can, default=axis.length + 1)
        before = [p for p in positions if axis.end_clock(p) <= clock]
        assert axis.last_position_by(clock) == max(before, default=-1)
    covered = 0
    for piece in axis.cure_pieces(cure, axis.last_end(cure)):
        assert piece.after == covered < piece.upto
        covered = piece.upto
        for end in range(piece.after + 1, piece.upto + 1):
            at = piece.at + (end - piece.after if piece.moves else 0)
            assert at == axis.cured_from(end, cure)
    assert covered == max(axis.last_end(cure), 0)
    for position in range(1, axis.length):
        cured = [e for e in positions if axis.cured_from(e, cure) <= position]
        assert axis.last_end_before(position, cure) == max(cured, default=-1)
