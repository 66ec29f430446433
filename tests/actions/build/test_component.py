from datetime import datetime
from typing import Any

import pytest

from fabshop import words
from fabshop.actions.build import (
    add_component,
    change_component,
    link_twins,
    retire_component,
    set_covers,
)
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.build import Build, Component
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import Site
from tests.factories import (
    BuildFactory,
    ComponentFactory,
    CoverFactory,
    SiteFactory,
    TaskFactory,
)


@pytest.fixture
def build(db: None) -> Build:
    return BuildFactory(name="Tuppence", letter="T")


def test_a_place_is_added_with_all_that_is_known_of_it(
    owner: Person, build: Build, now: datetime
) -> None:
    part = add_component(
        by=owner,
        build=build,
        code="T05",
        name=" Front  lid ",
        now=now,
        state="stand-in",
        off_minutes=2,
        on_minutes=None,
        mass_mg=41_000,
        held_by="2 quarter-turn",
        bares_battery_plug=True,
        x_um=-120_000,
    )
    part.refresh_from_db()
    assert (part.name, part.state, part.is_on) == (
        "Front lid",
        words.ComponentState.STAND_IN,
        True,
    )
    # Blank minutes are unknown, not nothing; a mass nobody called weighed is a guess.
    assert (part.off_minutes, part.on_minutes) == (2, None)
    assert part.mass_basis == words.MassBasis.ESTIMATED
    assert LogEntry.objects.get().text == "New: T05 Front lid."


def test_what_is_missing_is_not_on(owner: Person, build: Build, now: datetime) -> None:
    part = add_component(
        by=owner, build=build, code="T29", name="Light bar", state="missing", now=now
    )
    assert not part.is_on


def test_a_double_tap_adds_one(owner: Person, build: Build, now: datetime) -> None:
    first, again = (
        add_component(
            by=owner, build=build, code="T05", name="Lid", now=now, client_id="tap-1"
        )
        for _ in range(2)
    )
    assert first == again
    assert Component.objects.count() == 1


def test_row_58_a_code_is_never_used_again(
    owner: Person, build: Build, now: datetime
) -> None:
    part = add_component(by=owner, build=build, code="T05", name="Lid", now=now)
    with pytest.raises(Clash, match="T05 is Lid; a code is never used again"):
        add_component(by=owner, build=build, code="t05", name="Other", now=now)
    retire_component(by=owner, component=part, now=now)
    with pytest.raises(Clash, match="T05 was Lid; a code is never used again") as late:
        add_component(by=owner, build=build, code="T05", name="Other", now=now)
    assert late.value.field == "code"


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"code": "T 05"}, "code"),
        ({"code": ""}, "code"),
        ({"name": ""}, "name"),
        ({"name": "x" * 121}, "name"),
        ({"off_minutes": -1}, "off_minutes"),
        ({"on_minutes": -1}, "on_minutes"),
        ({"off_minutes": 32_768, "confirm": True}, "off_minutes"),
        ({"state": "lost"}, "state"),
        ({"state": "retired"}, "state"),
        ({"side": "up"}, "side"),
        ({"mass_mg": -1}, "mass_mg"),
        ({"mass_mg": 5, "mass_basis": "felt"}, "mass_basis"),
        ({"z_um": 2_000_000_001}, "z_um"),
        ({"watch": "x" * 201}, "watch"),
        ({"colour": "red"}, "colour"),
    ],
)
def test_what_cannot_be_is_refused_by_name(
    owner: Person, build: Build, now: datetime, fields: dict[str, Any], field: str
) -> None:
    given = {"code": "T05", "name": "Lid"} | fields
    with pytest.raises(BadInput) as refused:
        add_component(by=owner, build=build, now=now, **given)
    assert refused.value.field == field
    assert not Component.objects.exists()


@pytest.mark.parametrize(("minutes", "asks"), [(0, False), (480, False), (481, True)])
def test_row_11_very_long_handling_is_asked_about(
    owner: Person, build: Build, now: datetime, minutes: int, asks: bool
) -> None:
    given = {"by": owner, "build": build, "code": "T05", "name": "Lid", "now": now}
    if asks:
        with pytest.raises(NeedsAnswer, match="481 is more than 8 hours for one part"):
            add_component(off_minutes=minutes, **given)
    part = add_component(off_minutes=minutes, confirm=asks, **given)
    assert part.off_minutes == minutes


def test_row_11_negative_minutes_say_what_was_seen(
    owner: Person, build: Build, now: datetime
) -> None:
    with pytest.raises(BadInput, match="Minutes off: -3 is less than nothing"):
        add_component(
            by=owner, build=build, code="T05", name="Lid", off_minutes=-3, now=now
        )


def test_row_56_a_name_is_kept_as_it_was_typed(
    owner: Person, build: Build, now: datetime
) -> None:
    name = "<script>alert(1)</script>"
    part = add_component(by=owner, build=build, code="T05", name=name, now=now)
    assert part.name == name


def test_only_the_owner_adds_and_changes_places(
    owner: Person, helper: Person, build: Build, now: datetime
) -> None:
    with pytest.raises(NotAllowed):
        add_component(by=helper, build=build, code="T05", name="Lid", now=now)
    part = add_component(by=owner, build=build, code="T05", name="Lid", now=now)
    with pytest.raises(NotAllowed):
        change_component(by=helper, component=part, name="Mine", now=now)
    with pytest.raises(NotAllowed):
        retire_component(by=helper, component=part, now=now)


def test_nothing_is_added_to_a_closed_build(owner: Person, now: datetime) -> None:
    closed = BuildFactory(name="Sparrow", state=words.BuildState.CLOSED)
    with pytest.raises(Clash, match="Sparrow is closed"):
        add_component(by=owner, build=closed, code="S1", name="Lid", now=now)


def test_a_change_is_logged_and_counts_up_the_version(
    owner: Person, now: datetime, build: Build
) -> None:
    part = ComponentFactory(build=build, name="Lid", place="")
    changed = change_component(
        by=owner, component=part, version=1, name="Lid", place="shelf 2", now=now
    )
    assert (changed.place, changed.version) == ("shelf 2", 2)
    assert LogEntry.objects.get().text == "Place: “shelf 2”."


def test_two_who_change_one_field_are_shown_both_values(
    owner: Person, now: datetime, build: Build
) -> None:
    part = ComponentFactory(build=build, code="T05", name="Lid")
    change_component(by=owner, component=part, version=1, name="Front lid", now=now)
    with pytest.raises(
        Clash, match="you wrote “Nose lid”, by now it reads “Front lid”"
    ) as refused:
        change_component(by=owner, component=part, version=1, name="Nose lid", now=now)
    assert (refused.value.status, refused.value.field) == (409, "name")
    change_component(by=owner, component=part, version=2, name="Nose lid", now=now)
    part.refresh_from_db()
    assert part.name == "Nose lid"


def test_what_becomes_missing_comes_off(
    owner: Person, now: datetime, build: Build
) -> None:
    part = ComponentFactory(build=build)
    gone = change_component(by=owner, component=part, state="missing", now=now)
    assert not gone.is_on
    with pytest.raises(BadInput, match="What is missing cannot be on"):
        change_component(by=owner, component=part, is_on=True, now=now)


def test_a_mass_keeps_how_it_is_known(
    owner: Person, now: datetime, build: Build
) -> None:
    part = ComponentFactory(build=build, mass_mg=5, mass_basis="est")
    weighed = change_component(by=owner, component=part, mass_basis="wgd", now=now)
    assert (weighed.mass_mg, weighed.mass_basis) == (5, "wgd")
    bare = change_component(by=owner, component=part, mass_mg=None, now=now)
    assert (bare.mass_mg, bare.mass_basis) == (None, "")


def test_a_retired_place_keeps_its_history_and_lies_over_nothing(
    owner: Person, now: datetime, build: Build
) -> None:
    lid, deck, tray, skirt = (
        ComponentFactory(build=build, code=code) for code in ("T1", "T2", "T3", "T4")
    )
    CoverFactory(under=deck, cover=lid, route=1)
    CoverFactory(under=deck, cover=skirt, route=2)
    CoverFactory(under=tray, cover=lid, route=1)
    CoverFactory(under=tray, cover=skirt, route=1)
    link_twins(by=owner, component=lid, twin=skirt, now=now)
    retired = retire_component(by=owner, component=lid, now=now)
    assert (retired.state, retired.is_on) == (words.ComponentState.RETIRED, False)
    assert Component.objects.get(code="T4").twin is None
    # The lid alone shut the deck in on one way, so the deck lies open now.
    assert not deck.covers.exists()
    assert [cover.cover for cover in tray.covers.all()] == [skirt]
    assert LogEntry.objects.first().text.endswith(
        "is retired. No longer: T2 under T1, T3 under T1."
    )
    with pytest.raises(Clash, match="is retired"):
        set_covers(by=owner, component=lid, routes=[], now=now)


def test_retiring_what_tasks_still_work_on_asks_first(
    owner: Person, now: datetime, build: Build
) -> None:
    part = ComponentFactory(build=build, code="T05", name="Lid")
    fit = TaskFactory(build=build, code="W1", title="Fit lid")
    SiteFactory(task=fit, component=part)
    done = TaskFactory(build=build, state=words.TaskState.DONE)
    kept = SiteFactory(task=done, component=part)
    with pytest.raises(NeedsAnswer, match="T05 Lid is still worked on by W1 Fit lid"):
        retire_component(by=owner, component=part, now=now)
    retire_component(by=owner, component=part, now=now, confirm=True)
    assert list(Site.objects.all()) == [kept]
