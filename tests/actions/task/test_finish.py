from datetime import datetime, timedelta

import pytest

from fabshop import words
from fabshop.actions.moved import Before
from fabshop.actions.task.finish import (
    cured_at,
    holds_under,
    is_passed,
    mark_done,
    refuse_unfit,
)
from fabshop.errors import Clash, NotAllowed
from fabshop.records.build import Build, Component
from fabshop.records.shop import Person
from tests.factories import (
    AfterFactory,
    BuildFactory,
    ComponentFactory,
    CoverFactory,
    HoldSigningFactory,
    SiteFactory,
    StageFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def build() -> Build:
    return BuildFactory()


def part(build: Build, code: str, name: str = "part", **fields: object) -> Component:
    return ComponentFactory(build=build, code=code, name=name, **fields)


def test_finishing_fits_the_part_final_and_on_and_starts_the_cure(
    build: Build, now: datetime
) -> None:
    bond = TaskFactory(build=build)
    cowl = part(build, "T09", state=words.ComponentState.STAND_IN, is_on=False)
    SiteFactory(task=bond, component=cowl)
    SiteFactory(task=bond, component=part(build, "T08"), kind=words.SiteKind.KEEPS_OPEN)
    StageFactory(task=bond, number=1, minutes=42)
    StageFactory(task=bond, number=2, minutes=720, kind=words.StageKind.CURE)
    before: Before = {}
    mark_done(bond, at=now, before=before)
    bond.refresh_from_db()
    cowl.refresh_from_db()
    assert (bond.state, bond.done_at) == (words.TaskState.DONE, now)
    assert bond.cured_at == now + timedelta(hours=12)
    assert (cowl.state, cowl.is_on) == (words.ComponentState.FINAL, True)
    assert cowl.version == 2


def test_a_run_before_the_last_hands_on_stage_is_over_by_then(now: datetime) -> None:
    task = TaskFactory()
    StageFactory(task=task, number=1, minutes=840, kind=words.StageKind.RUN)
    StageFactory(task=task, number=2, minutes=20)
    assert cured_at(task, now) is None


def test_an_unsigned_hold_is_not_finished(owner: Person) -> None:
    hold = TaskFactory(code="W23", is_hold=True)
    with pytest.raises(Clash) as refused:
        refuse_unfit(hold, by=owner)
    assert str(refused.value) == ("W23 is a hold: sign it or waive it with a reason.")
    HoldSigningFactory(task=hold, verdict=words.HoldVerdict.FAILED)
    assert not is_passed(hold)


@pytest.mark.parametrize(
    ("verdict", "reason"),
    [(words.HoldVerdict.SIGNED, ""), (words.HoldVerdict.WAIVED, "no time")],
)
def test_a_signed_or_waived_hold_may_be_finished(
    owner: Person, verdict: words.HoldVerdict, reason: str
) -> None:
    hold = TaskFactory(is_hold=True)
    HoldSigningFactory(task=hold, verdict=verdict, reason=reason)
    refuse_unfit(hold, by=owner)


@pytest.fixture
def zone(build: Build) -> dict[str, Component]:
    """The loom T13 under the floor T11 under the seat T20; hold W23 looks at T13."""
    parts = {code: part(build, code) for code in ("T13", "T11", "T20")}
    CoverFactory(under=parts["T13"], cover=parts["T11"])
    CoverFactory(under=parts["T11"], cover=parts["T20"])
    hold = TaskFactory(code="W23", build=build, is_hold=True)
    SiteFactory(task=hold, component=parts["T13"], kind=words.SiteKind.REACH)
    return parts


def test_a_hold_is_closed_by_what_lies_directly_over_its_zone(
    zone: dict[str, Component],
) -> None:
    assert [hold.code for hold in holds_under(zone["T11"])] == ["W23"]
    assert holds_under(zone["T20"]) == ()
    assert holds_under(zone["T13"]) == ()


def test_fitting_over_an_open_hold_is_refused_and_names_it(
    owner: Person, build: Build, zone: dict[str, Component]
) -> None:
    fit = TaskFactory(code="W24", build=build)
    SiteFactory(task=fit, component=zone["T11"])
    with pytest.raises(Clash) as refused:
        refuse_unfit(fit, by=owner)
    assert str(refused.value) == (
        "Not yet: T11 part would lie over W23, not signed. "
        "Sign it or waive it with a reason."
    )


def test_a_task_that_the_hold_waits_for_may_be_finished_before_it(
    owner: Person, build: Build, zone: dict[str, Component]
) -> None:
    fit, wire = TaskFactory(build=build), TaskFactory(build=build)
    SiteFactory(task=fit, component=zone["T11"])
    AfterFactory(task=build.tasks.get(code="W23"), before=wire)
    AfterFactory(task=wire, before=fit)
    refuse_unfit(fit, by=owner)


def test_what_a_hold_says_it_keeps_open_closes_it_too(
    build: Build, zone: dict[str, Component]
) -> None:
    hold = build.tasks.get(code="W23")
    kept = words.SiteKind.KEEPS_OPEN
    SiteFactory(task=hold, component=zone["T20"], kind=kept)
    assert holds_under(zone["T20"]) == (hold,)


def test_a_hold_that_is_signed_or_given_up_closes_nothing(
    build: Build, zone: dict[str, Component]
) -> None:
    hold = build.tasks.get(code="W23")
    HoldSigningFactory(task=hold)
    assert holds_under(zone["T11"]) == ()
    hold.signings.update(is_taken_back=True)
    assert holds_under(zone["T11"]) == (hold,)
    build.tasks.update(state=words.TaskState.GIVEN_UP)
    assert holds_under(zone["T11"]) == ()


def test_bonding_over_what_other_tasks_still_need_lists_them(
    owner: Person, helper: Person, build: Build
) -> None:
    """The cowl T09 over the dash T10 over the loom T13; T12 has a second way."""
    cowl, dash, loom, figure = (
        part(build, code) for code in ("T09", "T10", "T13", "T12")
    )
    side = part(build, "T06")
    CoverFactory(under=dash, cover=cowl)
    CoverFactory(under=loom, cover=dash)
    CoverFactory(under=figure, cover=cowl, route=1)
    CoverFactory(under=figure, cover=side, route=2)
    bond = TaskFactory(code="W30", build=build, is_for_good=True)
    SiteFactory(task=bond, component=cowl)
    fit_dash = TaskFactory(code="W27", build=build)
    SiteFactory(task=fit_dash, component=dash)
    lay_loom = TaskFactory(code="W22", build=build)
    SiteFactory(task=lay_loom, component=loom, kind=words.SiteKind.REACH)
    paint_cowl = TaskFactory(code="W28", build=build)
    SiteFactory(task=paint_cowl, component=cowl, kind=words.SiteKind.REACH)
    take_cowl = TaskFactory(code="W26", build=build)
    SiteFactory(task=take_cowl, component=cowl, kind=words.SiteKind.REMOVE)
    fit_figure = TaskFactory(code="W29", build=build)
    SiteFactory(task=fit_figure, component=figure)
    done = TaskFactory(code="W21", build=build, state=words.TaskState.DONE)
    SiteFactory(task=done, component=dash)

    with pytest.raises(Clash) as refused:
        refuse_unfit(bond, by=owner)
    assert str(refused.value) == (
        "W30 closes off for good what is still needed by W22, W26, W27. "
        "Do those first, or waive with a reason."
    )
    assert refused.value.code == "closes-off"
    with pytest.raises(NotAllowed, match="Only the owner waives"):
        refuse_unfit(bond, by=helper, waive="cut it out later")
    with pytest.raises(Clash):
        refuse_unfit(bond, by=owner, waive="  ")
    refuse_unfit(bond, by=owner, waive="cut it out later")


def test_what_is_off_already_is_not_in_the_way_of_what_it_lies_over(
    owner: Person, build: Build
) -> None:
    cowl, dash, loom = (part(build, code) for code in ("T09", "T10", "T13"))
    CoverFactory(under=dash, cover=cowl)
    CoverFactory(under=loom, cover=dash)
    Component.objects.filter(pk=dash.pk).update(is_on=False)
    bond = TaskFactory(code="W30", build=build, is_for_good=True)
    SiteFactory(task=bond, component=cowl)
    reach = TaskFactory(code="W22", build=build)
    SiteFactory(task=reach, component=loom, kind=words.SiteKind.REACH)
    refuse_unfit(bond, by=owner)
