from datetime import datetime

import pytest

from fabshop import words
from fabshop.actions.build import put_on, swap_component, take_off
from fabshop.actions.build.fitted import lies_over
from fabshop.actions.log import undo_entry
from fabshop.actions.task import fail_hold, waive_hold
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.build import Component
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person, Shop
from fabshop.records.task import Task
from tests.factories import ComponentFactory, CoverFactory


def part(code: str) -> Component:
    return Component.objects.get(code=code)


def off() -> list[str]:
    return list(
        Component.objects.filter(is_on=False, code__startswith="T")
        .exclude(state="missing")
        .values_list("code", flat=True)
    )


def test_what_nothing_lies_over_comes_off(odile: Person, now: datetime) -> None:
    take_off(by=odile, component=part("T08"), now=now, client_id="tap-1")
    assert off() == ["T08"]
    entry = LogEntry.objects.get(client_id="tap-1")
    assert (entry.kind, entry.component.code) == (words.EntryKind.TAKEN_OFF, "T08")


def test_what_lies_under_others_says_which_come_off_first(
    odile: Person, now: datetime
) -> None:
    with pytest.raises(
        Clash,
        match="T11 Seat tub lies under T08 Roof plate and T12 Driver figure. "
        "Take that off first.",
    ) as refused:
        take_off(by=odile, component=part("T11"), now=now)
    assert (refused.value.status, refused.value.code) == (409, "shut-in")
    assert off() == []


def test_with_what_lies_over_it_all_comes_off_outermost_first(
    odile: Person, now: datetime
) -> None:
    take_off(
        by=odile, component=part("T14"), now=now, with_covers=True, client_id="tap-1"
    )
    assert off() == ["T08", "T11", "T12", "T14"]
    entries = LogEntry.objects.filter(kind=words.EntryKind.TAKEN_OFF).order_by("id")
    assert [entry.component.code for entry in entries] == ["T08", "T12", "T11", "T14"]
    assert entries[0].text == "To reach T14."
    # One tap is undone by one undo.
    assert entries[3].before["with"] == [entry.pk for entry in entries[:3]]


def test_one_undo_puts_back_all_that_one_tap_took_off(
    odile: Person, now: datetime
) -> None:
    take_off(
        by=odile, component=part("T14"), now=now, with_covers=True, client_id="tap-1"
    )
    undo_entry(by=odile, entry=LogEntry.objects.get(client_id="tap-1"), now=now)
    assert off() == []


def test_a_double_tap_takes_off_once(odile: Person, now: datetime) -> None:
    before = LogEntry.objects.count()
    for _ in range(2):
        taken = take_off(by=odile, component=part("T08"), now=now, client_id="tap-1")
    assert taken.code == "T08"
    assert LogEntry.objects.count() == before + 1


def test_row_10_taking_off_what_is_off_is_no_error(
    odile: Person, now: datetime
) -> None:
    take_off(by=odile, component=part("T08"), now=now)
    before = LogEntry.objects.count()
    take_off(by=odile, component=part("T08"), now=now)
    take_off(by=odile, component=part("T29"), now=now)
    assert LogEntry.objects.count() == before


def test_a_cover_that_is_off_is_in_nobodys_way(odile: Person, now: datetime) -> None:
    for code in ("T08", "T12", "T11"):
        take_off(by=odile, component=part(code), now=now)
    assert off() == ["T08", "T11", "T12"]


@pytest.mark.django_db
def test_of_two_routes_the_one_of_less_minutes_is_taken() -> None:
    deck = ComponentFactory(code="T1")
    heavy = ComponentFactory(code="T2", build=deck.build, off_minutes=30)
    lid, skirt = (
        ComponentFactory(code=code, build=deck.build, off_minutes=6)
        for code in ("T3", "T4")
    )
    CoverFactory(under=deck, cover=heavy, route=1)
    CoverFactory(under=deck, cover=lid, route=2)
    CoverFactory(under=lid, cover=skirt)
    assert [one.code for one in lies_over(deck)] == ["T4", "T3"]


def test_row_7_what_is_on_for_good_is_only_cut_out_when_that_is_meant(
    odile: Person, now: datetime
) -> None:
    take_off(by=odile, component=part("T08"), now=now)
    swap_component(by=odile, component=part("T09"), state="final", now=now)
    with pytest.raises(
        NeedsAnswer, match="T09 Scuttle cowl, moulded is on for good.*Cut it out"
    ):
        take_off(by=odile, component=part("T10"), now=now, with_covers=True)
    take_off(by=odile, component=part("T09"), now=now, confirm=True)
    assert (part("T09").state, part("T09").is_on) == ("missing", False)


def test_what_is_bonded_only_when_final_comes_off_as_a_dry_fit(
    odile: Person, now: datetime
) -> None:
    take_off(by=odile, component=part("T09"), now=now, with_covers=True)
    assert part("T09").state == words.ComponentState.DRY_FIT


def test_what_came_off_goes_on_again(odile: Person, now: datetime) -> None:
    take_off(by=odile, component=part("T21"), now=now)
    put_on(by=odile, component=part("T21"), now=now, client_id="tap-2")
    put_on(by=odile, component=part("T21"), now=now)
    assert off() == []
    entry = LogEntry.objects.get(client_id="tap-2")
    assert entry.kind == words.EntryKind.PUT_ON


def test_what_is_missing_does_not_go_on(odile: Person, now: datetime) -> None:
    with pytest.raises(Clash, match="T29 Light bar is missing: there is nothing"):
        put_on(by=odile, component=part("T29"), now=now)
    swap_component(by=odile, component=part("T29"), state="final", now=now)
    assert not part("T29").is_on, "it lies on the bench first"
    put_on(by=odile, component=part("T29"), now=now)
    assert part("T29").is_on


@pytest.mark.parametrize("code", ["T02", "T10", "T11", "T14", "T20"])
def test_row_8_nothing_goes_on_over_an_unsigned_hold(
    odile: Person, now: datetime, code: str
) -> None:
    take_off(by=odile, component=part(code), now=now, with_covers=True)
    with pytest.raises(
        Clash, match=f"Not yet: {code} .* would lie over W23 Buried wiring"
    ) as refused:
        put_on(by=odile, component=part(code), now=now)
    assert (refused.value.status, refused.value.code) == (409, "hold-unsigned")
    assert not part(code).is_on


def test_before_the_hold_is_begun_the_owner_puts_it_on_for_now_with_a_reason(
    odile: Person, teodor: Person, now: datetime
) -> None:
    take_off(by=odile, component=part("T11"), now=now, with_covers=True)
    with pytest.raises(NotAllowed, match="Only the owner puts T11 on for now"):
        put_on(by=teodor, component=part("T11"), now=now, for_now="out of the way")
    with pytest.raises(Clash, match="Not yet"):
        put_on(by=odile, component=part("T11"), now=now, for_now="  ")
    put_on(
        by=odile, component=part("T11"), now=now, for_now="to move it", client_id="x"
    )
    assert part("T11").is_on
    told = LogEntry.objects.get(client_id="x").text
    assert told == "For now, over W23, not signed: to move it. It must come off again."


def test_once_the_hold_is_begun_nothing_goes_on_for_now(
    odile: Person, now: datetime
) -> None:
    take_off(by=odile, component=part("T11"), now=now, with_covers=True)
    hold = Task.objects.get(code="W23")
    fail_hold(by=odile, task=hold, reason="lamp out", now=now)
    with pytest.raises(Clash, match="Not yet: T11 .* would lie over W23"):
        put_on(by=odile, component=part("T11"), now=now, for_now="to move it")


def test_what_is_bonded_does_not_go_on_for_now(odile: Person, now: datetime) -> None:
    take_off(by=odile, component=part("T11"), now=now, with_covers=True)
    Component.objects.filter(code="T11").update(is_for_good=True, state="final")
    with pytest.raises(Clash, match="Not yet"):
        put_on(by=odile, component=part("T11"), now=now, for_now="to move it")


@pytest.mark.parametrize("code", ["T13", "T17", "T18", "T08", "T34"])
def test_the_zone_of_a_hold_and_what_is_beside_it_go_on(
    odile: Person, now: datetime, code: str
) -> None:
    take_off(by=odile, component=part(code), now=now, with_covers=True)
    put_on(by=odile, component=part(code), now=now)
    assert part(code).is_on


def test_over_a_hold_that_was_waived_it_goes_on(odile: Person, now: datetime) -> None:
    take_off(by=odile, component=part("T11"), now=now, with_covers=True)
    test = Task.objects.get(code="W23")
    waive_hold(by=odile, task=test, reason="old loom stays in", now=now)
    put_on(by=odile, component=part("T11"), now=now)
    assert part("T11").is_on


def test_a_helper_takes_off_and_puts_on_and_swaps(
    teodor: Person, now: datetime
) -> None:
    take_off(by=teodor, component=part("T21"), now=now)
    swap_component(by=teodor, component=part("T21"), state="stand-in", now=now)
    put_on(by=teodor, component=part("T21"), now=now)
    assert part("T21").state == words.ComponentState.STAND_IN


def test_a_viewer_touches_nothing(demo: Shop, viewer: Person, now: datetime) -> None:
    for touch in (take_off, put_on):
        with pytest.raises(NotAllowed):
            touch(by=viewer, component=part("T21"), now=now)
    with pytest.raises(NotAllowed):
        swap_component(by=viewer, component=part("T21"), state="missing", now=now)


def test_a_swap_says_what_was_and_what_is(odile: Person, now: datetime) -> None:
    swap_component(
        by=odile, component=part("T04"), state="final", now=now, client_id="tap-3"
    )
    assert part("T04").is_on
    entry = LogEntry.objects.get(client_id="tap-3")
    assert entry.text == "Was stand-in, is final now."
    before = LogEntry.objects.count()
    swap_component(by=odile, component=part("T04"), state="final", now=now)
    assert LogEntry.objects.count() == before


def test_what_is_swapped_for_nothing_comes_off(odile: Person, now: datetime) -> None:
    swap_component(by=odile, component=part("T04"), state="missing", now=now)
    assert not part("T04").is_on


@pytest.mark.parametrize("state", ["lost", "retired", ""])
def test_a_swap_is_for_what_can_sit_there(
    odile: Person, now: datetime, state: str
) -> None:
    with pytest.raises(BadInput) as refused:
        swap_component(by=odile, component=part("T04"), state=state, now=now)
    assert refused.value.field == "state"


def test_two_who_say_otherwise_are_both_shown_and_the_later_one_asks(
    odile: Person, teodor: Person, now: datetime
) -> None:
    swap_component(
        by=odile, component=part("T04"), state="final", seen="stand-in", now=now
    )
    with pytest.raises(Clash) as asked:
        swap_component(
            by=teodor, component=part("T04"), state="dry-fit", seen="stand-in", now=now
        )
    assert "somebody said final since you read it; you say" in str(asked.value)
    assert part("T04").state == "final"
    swap_component(
        by=teodor, component=part("T04"), state="dry-fit", seen="final", now=now
    )
    assert part("T04").state == "dry-fit"
