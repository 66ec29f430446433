"""Tubes are drawn whole or not at all; a doubtful angle is asked about first."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from fabshop.actions.frame import EndSaid, add_frame, remove_tube, set_node, set_tube
from fabshop.actions.frame.tube import as_said
from fabshop.errors import BadInput, Clash, NeedsAnswer
from fabshop.records.frame import Frame, Tube, TubeEnd
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from tests.factories import BuildFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def frame(owner: Person, now: datetime) -> Frame:
    """A rail along x, and a node above it where a brace of 65 degrees ends."""
    made = add_frame(
        by=owner, build=BuildFactory(), code="cradle", name="Cradle", now=now
    )
    for code, x, z in (("A", 0, 0), ("B", 200, 0), ("C", 80, 0), ("D", 122, 90)):
        set_node(
            by=owner,
            frame=made,
            code=code,
            x_um=x * 1000,
            y_um=0,
            z_um=z * 1000,
            now=now,
        )
    set_tube(by=owner, frame=made, now=now, **RAIL)
    return made


RAIL: dict[str, Any] = {
    "mark": "rail",
    "start": "A",
    "end": "B",
    "od_um": 8_000,
    "wall_um": 900,
}
BRACE = {**RAIL, "mark": "brace", "start": "C", "end": "D", "od_um": 6_000}


def brace(by: Person, frame: Frame, now: datetime, said: EndSaid, **more: Any) -> Tube:
    return set_tube(
        by=by, frame=frame, now=now, ends=(said, EndSaid()), **{**BRACE, **more}
    )


def test_a_tube_is_drawn_and_drawn_anew(
    frame: Frame, owner: Person, now: datetime
) -> None:
    said = EndSaid(onto="rail", offset_um=500, joint="J01")
    tube = brace(owner, frame, now, said, material="ti-9", bends=[("B", 20_000)])
    again = brace(owner, frame, now, EndSaid(onto="rail"), wall_um=1_000)
    assert again.pk == tube.pk
    assert again.wall_um == 1_000
    assert not again.bends.exists()
    end = again.ends.get(which=1)
    assert (end.kind, end.offset_um, end.joint) == ("coped", 0, "")
    last = LogEntry.objects.order_by("-id")[0]
    assert last.text == ("Frame cradle: tube brace 6×1 from C to D, coped onto rail.")


def test_the_dial_typed_for_the_angle_is_asked_about_and_nothing_is_kept(
    frame: Frame, owner: Person, now: datetime
) -> None:
    with pytest.raises(NeedsAnswer, match="Angle between, or dial") as asked:
        brace(owner, frame, now, EndSaid(onto="rail", typed_mdeg=25_000))
    assert asked.value.field == "start_angle"
    assert not Tube.objects.filter(mark="brace").exists()
    as_dial = EndSaid(onto="rail", typed_mdeg=25_000, is_dial=True)
    brace(owner, frame, now, as_dial)
    assert TubeEnd.objects.get(tube__mark="brace", which=1).typed_mdeg == 65_000
    meant = EndSaid(onto="rail", typed_mdeg=25_000)
    brace(owner, frame, now, meant, confirm=True)
    assert TubeEnd.objects.get(tube__mark="brace", which=1).typed_mdeg == 25_000


@pytest.mark.parametrize(
    ("said", "more", "field", "sentence"),
    [
        (EndSaid(onto="mast"), {}, "start_onto", "no tube “mast” in this frame"),
        (EndSaid(onto="brace"), {}, "start_onto", "brace cannot land on itself"),
        (EndSaid(), {"start": "Q"}, "start", "there is no node “Q”"),
        (EndSaid(), {"end": "C"}, "end", "would end where it starts"),
        (EndSaid(), {"od_um": 0}, "od", "0 mm is not over 0"),
        (EndSaid(), {"wall_um": 3_001}, "wall", "up to the radius, 3 mm"),
        (EndSaid(), {"density_kgm3": 45}, "density", "is no metal's"),
        (EndSaid(), {"twin": "mast"}, "twin", "no other tube “mast”"),
        (EndSaid(), {"bends": [("B", 2_000)]}, "bends", "less than the tube's own"),
        (EndSaid(), {"bends": [("Q", 9_000)]}, "bends", "there is no node “Q”"),
        (EndSaid(), {"bends": [("B", 9_000)] * 13}, "bends", "at most 12"),
        (
            EndSaid(onto="rail", typed_mdeg=180_000),
            {},
            "start_angle",
            "180 is not between 0 and 180",
        ),
    ],
)
def test_what_cannot_be_drawn(
    frame: Frame,
    owner: Person,
    now: datetime,
    said: EndSaid,
    more: dict[str, Any],
    field: str,
    sentence: str,
) -> None:
    with pytest.raises(BadInput, match=sentence) as refused:
        brace(owner, frame, now, said, **more)
    assert refused.value.field == field
    assert not Tube.objects.filter(mark="brace").exists()


def test_a_tube_onto_a_plate_is_kept_without_a_cope(
    frame: Frame, owner: Person, now: datetime
) -> None:
    tube = brace(owner, frame, now, EndSaid(is_plate=True))
    end = tube.ends.get(which=1)
    assert end.kind == "plate"
    assert as_said(end) == EndSaid(is_plate=True)


def test_twins_name_each_other_and_nobody_else(
    frame: Frame, owner: Person, now: datetime
) -> None:
    one = brace(owner, frame, now, EndSaid(), mark="one")
    two = brace(owner, frame, now, EndSaid(), mark="two", twin="one")
    three = brace(owner, frame, now, EndSaid(), mark="three", twin="one")
    for tube in (one, two, three):
        tube.refresh_from_db()
    assert (one.twin, two.twin, three.twin) == (three, None, one)


def test_only_what_nothing_lands_on_is_taken_out(
    frame: Frame, owner: Person, now: datetime
) -> None:
    tube = brace(owner, frame, now, EndSaid(onto="rail"))
    rail = frame.tubes.get(mark="rail")
    with pytest.raises(Clash, match="brace still land on rail"):
        remove_tube(by=owner, tube=rail, now=now)
    remove_tube(by=owner, tube=tube, now=now)
    last = LogEntry.objects.order_by("-id")[0]
    assert last.text == "Frame cradle: tube brace 6×0.9 from C to D taken out."
