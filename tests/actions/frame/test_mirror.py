"""The drawn mirror of a tube is the mirror that the reckoning finds."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.frame import EndSaid, add_frame, mirror_tube, set_node, set_tube
from fabshop.errors import BadInput
from fabshop.reckoning.frame import mirror_faults, reckon_frame
from fabshop.records.frame import Frame
from fabshop.records.shop import Person
from fabshop.snapshot.frame import frame_facts
from tests.factories import BuildFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def frame(owner: Person, now: datetime) -> Frame:
    """A rail on the left, a mast in the middle, a brace between them."""
    made = add_frame(by=owner, build=BuildFactory(), code="c", name="C", now=now)
    for code, x, y, z in (
        ("A", 0, 40, 0),
        ("B", 200, 50, 0),
        ("C", 100, 45, 0),
        ("M", 20, 0, 0),
        ("T", 60, 0, 120),
        ("S", 40, 0, 60),
    ):
        place = {"x_um": x * 1000, "y_um": y * 1000, "z_um": z * 1000}
        set_node(by=owner, frame=made, code=code, now=now, **place)
    common = {"by": owner, "frame": made, "now": now, "wall_um": 1000}
    set_tube(mark="rail", start="A", end="B", od_um=12_000, **common)
    set_tube(mark="mast", start="M", end="T", od_um=12_000, **common)
    ends = (EndSaid(onto="rail", offset_um=1_000, joint="J1"), EndSaid(onto="mast"))
    set_tube(mark="brace", start="C", end="S", od_um=8_000, ends=ends, **common)
    return made


def test_twist_and_offset_are_turned_round(
    frame: Frame, owner: Person, now: datetime
) -> None:
    rail = frame.tubes.get(mark="rail")
    mirror_tube(by=owner, tube=rail, mark="rail-R", now=now)
    brace = frame.tubes.get(mark="brace")
    twin = mirror_tube(by=owner, tube=brace, mark="brace-R", now=now)
    ends = list(twin.ends.select_related("onto"))
    assert [end.onto.mark for end in ends if end.onto] == ["rail-R", "mast"]
    assert ends[0].offset_um == -1_000
    assert ends[0].joint == ""
    assert twin.end == brace.end
    facts = frame_facts(frame)
    found = reckon_frame(facts)
    one, other = found.tube("brace"), found.tube("brace-R")
    assert one.twist_deg is not None
    assert other.twist_deg == pytest.approx(-one.twist_deg)
    assert mirror_faults(facts, one, other) == ()
    assert facts.tube_by_mark["brace"].twin == "brace-R"


def test_a_tube_in_the_middle_has_no_twin(
    frame: Frame, owner: Person, now: datetime
) -> None:
    mast = frame.tubes.get(mark="mast")
    with pytest.raises(BadInput, match="lies in the middle and is its own mirror"):
        mirror_tube(by=owner, tube=mast, mark="mast-R", now=now)


def test_the_mark_of_another_tube_is_refused(
    frame: Frame, owner: Person, now: datetime
) -> None:
    brace = frame.tubes.get(mark="brace")
    with pytest.raises(BadInput, match="There is a tube mast already"):
        mirror_tube(by=owner, tube=brace, mark="mast", now=now)
