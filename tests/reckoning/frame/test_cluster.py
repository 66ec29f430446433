"""Tubes that run into each other where they land side by side are named."""

from __future__ import annotations

import pytest

from fabshop.reckoning.frame import EndFact, FrameFacts, TubeFact, reckon_frame


def said_of_two(apart: float, ends: tuple[str, str] = ("M", "M")) -> list[str]:
    """Two tubes of 6 leave one node of a rail of 10, `apart` from each other in x."""
    nodes = {
        "A": (-100.0, 0.0, 0.0),
        "B": (100.0, 0.0, 0.0),
        "O": (0.0, 0.0, 0.0),
        "P": (-apart, 0.0, 100.0),
        "Q": (apart, 0.0, 100.0),
    }
    tubes = (
        TubeFact("M", "A", "B", 10, 1),
        TubeFact("S", "O", "P", 6, 1, (EndFact("coped", ends[0]), EndFact())),
        TubeFact("T", "O", "Q", 6, 1, (EndFact("coped", ends[1]), EndFact())),
    )
    frame = reckon_frame(FrameFacts(nodes, tubes))
    return [note for tube in frame.tubes for note in tube.said]


def test_close_tubes_run_into_each_other_and_wide_ones_do_not() -> None:
    # At 45 degrees either side the skins part at 3 (1 + cos 90) / sin 90 = 3 along the
    # tube, and the rail's skin lies at (5 - 3 cos 45) / sin 45 = 4.07 there.
    assert said_of_two(100) == []
    told = said_of_two(40)
    assert told[0] == (
        "S and T run into each other at O: each is coped onto M alone, and what the "
        "second must lose is not computed."
    )
    assert len(told) == 2


@pytest.mark.parametrize(("apart", "met"), [(60.0, True), (75.0, False)])
def test_the_limit_is_where_the_crotch_leaves_the_rail(apart: float, met: bool) -> None:
    # Crotch at 3 / tan(half the angle between), rail at (5 - 3 cos a) / sin a.
    assert bool(said_of_two(apart)) is met


def test_coped_onto_the_neighbour_in_a_chosen_order_is_well() -> None:
    assert said_of_two(100, ("M", "S")) == []
