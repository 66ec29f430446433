from datetime import datetime

import pytest

from fabshop import words
from fabshop.actions.build import copy_build, take_off
from fabshop.actions.log import finish_work
from fabshop.actions.task import give_up_task, take_reading, waive_hold
from fabshop.errors import Clash, NotAllowed
from fabshop.records.build import Build, Component, Cover, Fastening
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import HoldSigning, Need, ReadingTaken, Task
from tests.factories import BuildFactory, ComponentFactory, TaskFactory


@pytest.fixture
def copied(odile: Person, now: datetime) -> Build:
    """Tuppence copied after some of its work was done."""
    build = Build.objects.get(slug="tuppence")
    hold = Task.objects.get(code="W23")
    take_reading(by=odile, reading=hold.readings.first(), value=1, now=now)
    waive_hold(by=odile, task=hold, reason="no time", now=now)
    finish_work(by=odile, task=Task.objects.get(code="W01"), now=now, minutes=20)
    give_up_task(by=odile, task=Task.objects.get(code="W36"), text="no paint", now=now)
    take_off(by=odile, component=Component.objects.get(code="T08"), now=now)
    return copy_build(
        by=odile, build=build, slug="ha-penny", letter="H", name="Ha'penny", now=now
    )


def test_row_66_places_covers_twins_and_screws_are_copied(copied: Build) -> None:
    old = Build.objects.get(slug="tuppence")
    assert copied.components.count() == old.components.count() == 34
    for kind in (Cover.objects.filter, Fastening.objects.filter):
        at = "under__build" if kind == Cover.objects.filter else "component__build"
        assert kind(**{at: copied}).count() == kind(**{at: old}).count() > 0
    left = copied.components.get(code="H31")
    assert (left.name, left.side) == ("Front air duct L", "L")
    assert left.twin is not None
    assert (left.twin.code, left.twin.twin) == ("H32", left)
    loom = copied.components.get(code="H13")
    assert sorted(loom.covers.values_list("cover__code", flat=True)) == [
        "H10",
        "H11",
        "H14",
    ]


def test_row_66_nothing_is_there_yet_and_no_mass_is_weighed(copied: Build) -> None:
    assert set(copied.components.values_list("state", "is_on", "mass_basis")) == {
        (words.ComponentState.MISSING, False, words.MassBasis.ESTIMATED)
    }


def test_row_66_holds_are_copied_unread_and_unsigned(copied: Build) -> None:
    hold = copied.tasks.get(code="H-W23")
    assert (hold.is_hold, hold.state) == (True, words.TaskState.OPEN)
    assert hold.readings.count() == 4
    assert not ReadingTaken.objects.filter(reading__task=hold).exists()
    assert not HoldSigning.objects.filter(task=hold).exists()
    assert sorted(hold.sites.values_list("kind", "component__code")) == [
        ("reach", "H13"),
        ("reach", "H17"),
        ("reach", "H18"),
    ]


def test_row_66_every_task_is_open_again_with_its_last_guess(copied: Build) -> None:
    states = set(copied.tasks.values_list("state", "left_minutes", "done_at"))
    assert states == {(words.TaskState.OPEN, None, None)}
    # What was given up is not begun again.
    assert copied.tasks.count() == 35
    mould = copied.tasks.get(code="H-W03")
    assert [one.minutes for one in mould.estimates.all()] == [120]
    assert [(one.kind, one.minutes) for one in mould.stages.all()] == [
        ("hands-on", 120),
        ("cure", 240),
    ]
    assert [one.before.code for one in mould.afters.all()] == ["H-W01", "H-W02"]
    assert copied.tasks.get(code="H-W07").fallbacks.get().points == 4


def test_what_was_ordered_for_the_other_is_not_counted_on(copied: Build) -> None:
    needs = Need.objects.filter(task__build=copied)
    assert needs
    assert set(needs.values_list("kind", flat=True)) == {words.NeedKind.RACK}


def test_the_copied_build_itself_is_left_as_it_was(copied: Build) -> None:
    old = Build.objects.get(slug="tuppence")
    assert old.tasks.filter(state=words.TaskState.DONE).count() == 2
    assert LogEntry.objects.first().text == (
        "Begun as a copy of Tuppence: 34 components, 35 tasks, 16 joints."
    )


def test_codes_of_another_shape_get_the_letter_before_them(
    owner: Person, now: datetime
) -> None:
    build = BuildFactory(letter="T")
    for code in ("T1", "T-2", "Tray", "lid"):
        ComponentFactory(build=build, code=code)
    fresh = copy_build(by=owner, build=build, slug="k", letter="K", name="K", now=now)
    codes = set(fresh.components.values_list("code", flat=True))
    assert codes == {"K1", "K-2", "K-Tray", "K-lid"}


def test_a_letter_whose_codes_are_taken_copies_nothing(
    owner: Person, now: datetime
) -> None:
    build = BuildFactory(letter="T")
    ComponentFactory(build=build, code="T1")
    ComponentFactory(code="K1")
    with pytest.raises(Clash, match="There is a component K1 already") as refused:
        copy_build(by=owner, build=build, slug="k", letter="K", name="K", now=now)
    assert refused.value.field == "letter"
    assert not Build.objects.filter(slug="k").exists()


def test_a_code_that_would_grow_too_long_is_refused(
    owner: Person, now: datetime
) -> None:
    task = TaskFactory(code="w" * 39)
    with pytest.raises(Clash, match="longer than the 40 characters"):
        copy_build(by=owner, build=task.build, slug="k", letter="K", name="K", now=now)


def test_a_helper_copies_nothing(helper: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        copy_build(
            by=helper, build=BuildFactory(), slug="k", letter="K", name="K", now=now
        )
