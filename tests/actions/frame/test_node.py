"""Nodes are placed, moved, and taken out where nothing ends on them."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.frame import remove_node, set_node
from fabshop.errors import BadInput, Clash
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from tests.factories import BendFactory, FrameFactory, NodeFactory, TubeFactory

pytestmark = pytest.mark.django_db


def test_a_node_is_placed_and_moved_with_both_places_in_the_log(
    owner: Person, now: datetime
) -> None:
    frame = FrameFactory(code="cradle")
    common = {"by": owner, "frame": frame, "code": "N1", "now": now}
    set_node(x_um=1_500, y_um=-40_000, z_um=0, **common)
    set_node(x_um=2_000, y_um=-40_000, z_um=0, **common)
    set_node(x_um=2_000, y_um=-40_000, z_um=0, **common)
    assert [entry.text for entry in LogEntry.objects.order_by("id")] == [
        "Frame cradle: node N1 at 1.5, -40, 0.",
        "Frame cradle: node N1 moved from 1.5, -40, 0 to 2, -40, 0.",
    ]


def test_two_nodes_never_stand_in_one_place(owner: Person, now: datetime) -> None:
    node = NodeFactory(code="A", x_um=5, y_um=6, z_um=7)
    with pytest.raises(Clash, match="Node A is in that place already"):
        set_node(by=owner, frame=node.frame, code="B", x_um=5, y_um=6, z_um=7, now=now)


@pytest.mark.parametrize(
    ("fields", "sentence"),
    [
        ({"x_um": 20_000_001}, "x: 20000.001 mm is farther than 20 m"),
        ({"code": "N 1"}, "Node: “N 1” will not do"),
        ({"code": "new"}, "Node: “new” is taken"),
        ({"code": "N" * 21}, "Node: 21 characters; at most 20 fit"),
    ],
)
def test_what_cannot_be_a_node(
    owner: Person, now: datetime, fields: dict[str, object], sentence: str
) -> None:
    given = {"code": "N1", "x_um": 0, "y_um": 0, "z_um": 0, **fields}
    with pytest.raises(BadInput, match=sentence):
        set_node(by=owner, frame=FrameFactory(), now=now, **given)  # type: ignore[arg-type]


def test_only_a_free_node_is_taken_out(owner: Person, now: datetime) -> None:
    tube = TubeFactory(mark="F1")
    with pytest.raises(Clash, match="F1 still end or bend at node"):
        remove_node(by=owner, node=tube.start, now=now)
    bend = BendFactory(tube=tube)
    with pytest.raises(Clash, match="F1 still end or bend"):
        remove_node(by=owner, node=bend.node, now=now)
    free = NodeFactory(frame=tube.frame)
    remove_node(by=owner, node=free, now=now)
    assert not tube.frame.nodes.filter(code=free.code).exists()
