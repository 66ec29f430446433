"""Lines of a drawing become an empty frame's nodes and tubes, tried first."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from fabshop.actions.frame import take_lines
from fabshop.errors import BadInput, Clash
from fabshop.reckoning.frame.vector import Vector
from fabshop.records.frame import Frame
from fabshop.records.shop import Person
from tests.factories import FrameFactory, NodeFactory

pytestmark = pytest.mark.django_db

# A rail, a post on its middle drawn 0.04 mm off, and a brace between their ends.
LINES: list[tuple[Vector, Vector]] = [
    ((0, 0, 0), (100, 0, 0)),
    ((50, 0.03, 0), (50, 0, 60)),
    ((100.02, 0, 0), (50, 0, 60.04)),
]


def take(by: Person, frame: Frame, now: datetime, **more: Any) -> Any:
    given: dict[str, Any] = {
        "lines": LINES,
        "tolerance_um": 100,
        "od_um": 8_000,
        "wall_um": 900,
        "material": "ti-9",
    }
    return take_lines(by=by, frame=frame, now=now, **{**given, **more})


def test_a_trial_writes_nothing_and_shows_what_it_would(
    owner: Person, now: datetime
) -> None:
    frame = FrameFactory()
    taken = take(owner, frame, now)
    assert (len(taken.snapped.nodes), taken.marks) == (4, ("T1", "T2", "T3"))
    assert taken.onto == ((None, None), (0, None), (0, 1))
    assert not taken.is_written
    assert not frame.nodes.exists()


def test_accepted_it_is_drawn_with_its_landings(owner: Person, now: datetime) -> None:
    frame = FrameFactory()
    take(owner, frame, now, accept=True)
    brace = frame.tubes.get(mark="T3")
    assert [end.onto.mark for end in brace.ends.all() if end.onto] == ["T1", "T2"]
    assert frame.nodes.get(code="N2").x_um == 100_010
    with pytest.raises(Clash, match="is drawn already"):
        take(owner, frame, now)


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"lines": []}, "There is no line in the drawing"),
        ({"lines": LINES * 200}, "The drawing has 600 lines; a frame holds 400"),
        ({"tolerance_um": 60_000}, "60 mm is not 0 to 50 mm"),
    ],
)
def test_what_cannot_be_taken(
    owner: Person, now: datetime, more: dict[str, Any], sentence: str
) -> None:
    with pytest.raises(BadInput, match=sentence):
        take(owner, FrameFactory(), now, **more)


def test_nodes_that_are_there_are_not_drawn_over(owner: Person, now: datetime) -> None:
    with pytest.raises(Clash, match="Begin another frame"):
        take(owner, NodeFactory().frame, now)
