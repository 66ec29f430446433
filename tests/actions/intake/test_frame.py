"""A small titanium frame out of its tables, reckoned end to end."""

from __future__ import annotations

from datetime import datetime
from math import acos, atan, degrees, hypot, pi, radians, sqrt, tan
from pathlib import Path

import pytest

from fabshop.actions.frame import add_frame
from fabshop.actions.intake import Taken, take_table
from fabshop.reckoning.frame import (
    FrameFacts,
    FrameReckoned,
    frame_cuts,
    mirror_faults,
    reckon_frame,
)
from fabshop.records.frame import Frame, Tube
from fabshop.records.shop import Person
from fabshop.snapshot.frame import frame_facts
from tests.factories import BuildFactory

TABLES = Path(__file__).resolve().parents[3] / "fixtures" / "frame"


@pytest.fixture
def cradle(owner: Person, now: datetime) -> Frame:
    build = BuildFactory(slug="wren", name="Wren")
    return add_frame(by=owner, build=build, code="cradle", name="Cradle", now=now)


def take(by: Person, now: datetime, noun: str, table: str = "") -> Taken:
    content = table.encode() if table else (TABLES / f"{noun}.csv").read_bytes()
    return take_table(by=by, kind=noun, content=content, now=now, accept="all")


@pytest.fixture
def reckoned(
    cradle: Frame, owner: Person, now: datetime
) -> tuple[FrameFacts, FrameReckoned]:
    for noun in ("nodes", "tubes"):
        taken = take(owner, now, noun)
        assert taken.bad == ()
        assert taken.is_written
    facts = frame_facts(cradle)
    return facts, reckon_frame(facts)


def test_the_whole_frame_is_computed(
    reckoned: tuple[FrameFacts, FrameReckoned],
) -> None:
    facts, frame = reckoned
    assert (len(facts.nodes), len(frame.tubes)) == (12, 6)
    assert [note for tube in frame.tubes for note in tube.said] == []
    assert frame.unknown == ()
    assert [cut.section for cut in frame_cuts(frame)] == ["6×0.9"] * 3 + ["8×0.9"] * 3


def test_the_hoop_stands_square_and_develops_its_bends(
    reckoned: tuple[FrameFacts, FrameReckoned],
) -> None:
    hoop = reckoned[1].tube("hoop")
    assert [end.landed.angle_deg for end in hoop.ends if end.landed] == [90, 90]
    bend = 180 - 90 - degrees(atan(10 / 90))
    legs, top = hypot(10, 90), 60.0
    takes = 14 * tan(radians(bend) / 2)
    arcs = 2 * pi * 14 * bend / 180
    assert hoop.between_mm == pytest.approx(2 * (legs - takes) + top - 2 * takes + arcs)
    # Equal tubes at right angles: the flanks reach the middle of the rail.
    assert hoop.cut_mm == pytest.approx(hoop.between_mm, abs=1e-3)


def test_the_braces_are_each_other_s_mirror(
    reckoned: tuple[FrameFacts, FrameReckoned],
) -> None:
    facts, frame = reckoned
    left, right = frame.tube("brace-L"), frame.tube("brace-R")
    assert left.twist_deg is not None
    assert abs(left.twist_deg) > 1
    assert right.twist_deg == pytest.approx(-left.twist_deg)
    assert right.cut_mm == pytest.approx(left.cut_mm)
    assert mirror_faults(facts, left, right) == ()
    assert left.ends[0].landed is not None
    along = 90 / sqrt(90**2 + 28**2 + 90**2)
    assert left.ends[0].landed.angle_deg == pytest.approx(degrees(acos(along)), abs=0.5)


def test_mass_and_middle_lie_where_they_must(
    reckoned: tuple[FrameFacts, FrameReckoned],
) -> None:
    frame = reckoned[1]
    assert frame.centre is not None
    assert frame.centre[1] == pytest.approx(0, abs=1e-9)
    # Grade 9 titanium, 4.48 g/cm3: rails alone by their section.
    rails = sum(frame.tube(mark).mass_g or 0 for mark in ("rail-L", "rail-R"))
    assert rails == pytest.approx(2 * 243 * pi * (16 - 3.1**2) * 4.48e-3)
    assert frame.mass_g == pytest.approx(sum(t.mass_g or 0 for t in frame.tubes))


def test_a_trial_writes_nothing(cradle: Frame, owner: Person, now: datetime) -> None:
    content = (TABLES / "nodes.csv").read_bytes()
    taken = take_table(by=owner, kind="nodes", content=content, now=now)
    assert (taken.good, taken.is_written) == (12, False)
    assert not cradle.nodes.exists()


def test_bad_cells_are_told_by_row_and_column(
    cradle: Frame, owner: Person, now: datetime
) -> None:
    take(owner, now, "nodes")
    taken = take(
        owner,
        now,
        "tubes",
        "frame;mark;start;end;od;wall;start_onto;start_angle;bends\n"
        "cradle;a;A1L;A2L;8;0,9;;;\n"
        "cradle;b;FL;GL;1/4 in;035 in;nobody;;\n"
        "cradle;c;FL;nowhere;6;0.9;;;\n"
        "mast;d;FL;GL;6;0.9;;;\n"
        "cradle;e;FL;GL;6;4;;;\n"
        "cradle;f;FL;GL;6;0.9;;steep;KL:\n",
    )
    assert not taken.is_written
    told = {(cell.row, cell.column): cell.message for cell in taken.bad}
    assert "there is no node “nowhere”" in told[4, "end"]
    assert "is no frame here" in told[5, "frame"]
    assert "up to the radius, 3 mm" in told[6, "wall"]
    assert told[7, "start_angle"] == "is not degrees"
    assert "is not a node and a radius" in told[7, "bends"]
    assert not Tube.objects.exists()
    again = take(
        owner,
        now,
        "tubes",
        "frame,mark,start,end,od,wall,start_onto\n"
        "cradle,b,FL,GL,1/4 in,035 in,nobody\n",
    )
    assert [(c.row, c.column) for c in again.bad] == [(2, "start_onto")]


def test_an_angle_that_the_frame_denies_is_a_bad_cell(
    cradle: Frame, owner: Person, now: datetime
) -> None:
    take(owner, now, "nodes")
    taken = take(
        owner,
        now,
        "tubes",
        "frame,mark,start,end,od,wall,start_onto,start_angle\n"
        "cradle,rail,A1L,A2L,8,0.9,,\n"
        "cradle,brace,FL,GL,6,0.9,rail,43.7\n",
    )
    assert len(taken.bad) == 1
    assert taken.bad[0].column == "start_angle"
    assert taken.bad[0].message.endswith("Angle between, or dial?")
