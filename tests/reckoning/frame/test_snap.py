"""Ends that nearly meet become one node; who runs through follows from the lines."""

from __future__ import annotations

from fabshop.reckoning.frame.snap import snapped, who_runs_through


def test_near_ends_meet_in_their_middle() -> None:
    found = snapped([((0, 0, 0), (10, 0, 0)), ((10.2, 0, 0), (10, 9, 0))], 0.5)
    assert found.nodes == ((0, 0, 0), (10.1, 0, 0), (10, 9, 0))
    assert found.lines == ((0, 1), (1, 2))


def test_far_ends_stay_apart() -> None:
    found = snapped([((0, 0, 0), (10, 0, 0)), ((10.2, 0, 0), (10, 9, 0))], 0.1)
    assert len(found.nodes) == 4


def test_points_and_doubles_are_left_out_and_told() -> None:
    found = snapped(
        [
            ((0, 0, 0), (10, 0, 0)),
            ((10, 0, 0), (0, 0, 0)),
            ((5, 5, 0), (5, 5.2, 0)),
        ],
        0.5,
    )
    assert found.lines == ((0, 1),)
    assert len(found.nodes) == 2
    assert found.notes == (
        "Line 2 is drawn twice: left out.",
        "Line 3 is shorter than the tolerance: left out.",
    )


def test_an_end_on_another_line_lands_on_it_and_corners_go_by_order() -> None:
    nodes = [(0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (5.0, 0.01, 0.0), (5.0, 9.0, 0.0)]
    lines = [(0, 1), (2, 3), (1, 3)]
    assert who_runs_through(nodes, lines, 0.05) == [
        (None, None),
        (0, None),
        (0, 1),
    ]
