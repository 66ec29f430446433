"""The demo shop holds what its tables say, and all of it through the actions."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from django.utils import timezone

from fabshop import words
from fabshop.console.demo import load_demo
from fabshop.errors import Clash
from fabshop.reckoning.hours import hours_summary
from fabshop.reckoning.readiness import blocked_by_undelivered
from fabshop.records.build import Build, Component, Fastening
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, OrderLine, Receipt
from fabshop.records.shop import Day, Machine, Person, Shop, Window
from fabshop.records.task import Need, Site, Task
from fabshop.snapshot import take
from tests.factories import MOMENT, PersonFactory


def sites_of(code: str) -> list[tuple[str, str]]:
    return sorted(
        Site.objects.filter(task__code=code).values_list("kind", "component__code")
    )


def test_the_counts_are_those_of_the_tables(demo: Shop) -> None:
    by_build = {
        build.slug: (build.components.count(), build.tasks.count())
        for build in Build.objects.all()
    }
    assert by_build == {"tuppence": (34, 36), "gannet": (27, 28), "sparrow": (0, 20)}
    assert Component.objects.count() == 61
    assert Task.objects.exclude(build__slug="sparrow").count() == 68
    assert Task.objects.filter(build=None).count() == 4
    assert Order.objects.count() == 25
    assert Machine.objects.count() == 3
    owner = Person.objects.get(role=words.Role.OWNER)
    hours = Window.objects.filter(person=owner)
    assert sum(one.to_minute - one.from_minute for one in hours) == 82 * 60
    days = set(hours.values_list("on", flat=True)) | {
        date(2027, 9, 8),
        date(2027, 9, 11),
    }
    assert len(days) == 20


def test_every_task_of_the_two_builds_is_open(demo: Shop) -> None:
    live = Task.objects.exclude(build__slug="sparrow")
    assert live.count() == 68
    assert set(live.values_list("state", flat=True)) == {words.TaskState.OPEN}
    finished = Task.objects.filter(build__slug="sparrow")
    assert set(finished.values_list("state", flat=True)) == {words.TaskState.DONE}


def test_hours_come_out_as_the_tables_were_summed_by_hand(demo: Shop) -> None:
    hours = hours_summary(take(MOMENT))
    assert hours.calendar_minutes == 82 * 60
    assert hours.first_guess_minutes == {
        "tuppence": 38 * 60,
        "gannet": 60 * 60,
        "": 5 * 60 + 18,
    }
    assert hours.factored_minutes == pytest.approx(126.0 * 60, abs=5)


def test_what_is_undelivered_blocks_twenty_one_tasks(demo: Shop) -> None:
    blocked = {ready.task for ready in blocked_by_undelivered(take(MOMENT))}
    assert " ".join(sorted(blocked)) == (
        "W04 W13 W15 W20 W21 W24 W25 W29 W30 W33 W37 W43 W45 W47 W49 W54 W58 W61 W63 "
        "W64 W65"
    )


def test_twins_mirror_each_other_and_say_their_side(demo: Shop) -> None:
    twins = Component.objects.exclude(twin=None).select_related("twin")
    assert len(twins) == 14
    for part in twins:
        assert part.twin is not None
        assert part.twin.twin_id == part.pk
        assert {part.side, part.twin.side} == {"L", "R"}
        assert part.side == part.name.split(",")[0][-1]


def test_what_lies_under_what_is_one_route(demo: Shop) -> None:
    loom = Component.objects.get(code="T13")
    assert sorted(loom.covers.values_list("route", "cover__code")) == [
        (1, "T10"),
        (1, "T11"),
        (1, "T14"),
    ]
    assert Component.objects.get(bares_battery_plug=True).code == "T14"


def test_screws_are_told_from_ties_and_clips(demo: Shop) -> None:
    carrier = Fastening.objects.get(component__code="T21")
    assert (carrier.count, carrier.size) == (2, "M4×12 SH")
    assert (carrier.locker, carrier.is_single_use) == (words.Locker.NYLON_NUT, True)
    loom = Fastening.objects.filter(component__code="T13")
    assert [(one.count, one.size, one.is_screw) for one in loom] == [
        (9, "ties", False),
        (3, "plugs", False),
    ]


def test_the_teardown_disturbs_the_screws_that_were_counted_by_hand(
    demo: Shop,
) -> None:
    numbers = [2, 3, 4, *range(8, 15), 17, 18, 20, 21, 23, 26, 27, 31, 32, 34]
    off = [f"T{number:02}" for number in numbers]
    screws = Fastening.objects.filter(component__code__in=off, is_screw=True)
    by_locker: dict[str, int] = {}
    for one in screws:
        by_locker[one.locker] = by_locker.get(one.locker, 0) + one.count
    # 67 screws: 28 get medium thread-locker, 33 are dry, 6 take a new nylon nut.
    assert by_locker == {"medium": 28, "dry": 33, "nylon-nut": 6}
    parts = Component.objects.filter(code__in=off)
    assert sum(part.off_minutes or 0 for part in parts) == 148
    assert sum(part.on_minutes or 0 for part in parts) == 200


def test_the_teardown_is_what_comes_with_it_and_follows_it(demo: Shop) -> None:
    chosen = Task.objects.filter(in_teardown=True).values_list("code", flat=True)
    assert " ".join(chosen) == (
        "W14 W20 W21 W22 W23 W24 W25 W27 W29 W30 W32 W39 W40 W70"
    )
    assert not Task.objects.filter(code__in=["W19", "W31"]).exists()


def test_a_hold_names_its_zone_and_its_readings(demo: Shop) -> None:
    test = Task.objects.get(code="W23")
    assert (test.is_hold, test.is_unbroken) == (True, True)
    assert sites_of("W23") == [("reach", "T13"), ("reach", "T17"), ("reach", "T18")]
    assert [one.label for one in test.readings.all()] == [
        "Motor turns forward and reverse",
        "Servo at centre and both ends",
        "Lamps",
        "Voltage under load",
    ]
    holds = Task.objects.filter(is_hold=True)
    assert " ".join(holds.values_list("code", flat=True)) == "W16 W23 W35 W44 W46 W65"
    assert all(hold.readings.exists() for hold in holds)


def test_where_tasks_happen(demo: Shop) -> None:
    assert sites_of("W14") == [("fits", "T31"), ("fits", "T32")]
    assert sites_of("W30") == [("fits", "T09"), ("keeps-open", "T08")]
    assert sites_of("W11") == [("fits", "T06"), ("fits", "T07")]
    assert sites_of("W25") == [("remove", "T23")]


def test_needs_name_lines_with_their_quantity_and_the_rack(demo: Shop) -> None:
    screws = Need.objects.get(task__code="W11")
    assert (screws.line.order.code, screws.quantity_milli) == ("P14", 14_000)
    assert Need.objects.get(task__code="W33", kind="rack").rack_code == "M04"
    ducts = Need.objects.filter(task__code="W13")
    assert [str(one.line.order.code) for one in ducts] == ["P02", "P03"]


def test_two_lefts_came_for_a_left_and_a_right(demo: Shop) -> None:
    left, right = OrderLine.objects.filter(order__code="P02")
    assert (left.hand, right.hand) == ("L", "R")
    assert left.receipts.get().accepted_milli == 1000
    wrong = right.receipts.get()
    assert (wrong.wrong_milli, wrong.wrong_why) == (1000, "hand")
    settled = right.settlements.get()
    assert settled.reordered_on is not None
    assert (settled.how, settled.reordered_on.order.code) == ("reordered", "P03")


def test_a_slipped_order_keeps_both_words(demo: Shop) -> None:
    board = Order.objects.get(code="P06")
    assert [(str(one.eta_on), str(one.latest_on)) for one in board.promises.all()] == [
        ("2027-09-10", "None"),
        ("2027-09-18", "2027-09-21"),
    ]
    assert board.move == words.Move.FIRM


def test_whose_move_each_order_is(demo: Shop) -> None:
    moves: dict[str, list[str]] = {}
    for order in Order.objects.all():
        moves.setdefault(order.move, []).append(order.code)
    assert moves == {
        "me": ["P03", "P07", "P08", "P19", "P23"],
        "firm": ["P04", "P05", "P06", "P12", "P18", "P25"],
        "carrier": ["P09", "P11", "P16", "P17", "P22", "P24"],
        "done": ["P01", "P02", "P10", "P13", "P14", "P15", "P20", "P21"],
    }
    assert Order.objects.get(code="P21").give_back_on == date(2027, 9, 20)


def test_days_without_deliveries_and_without_runs(demo: Shop) -> None:
    shut = Day.objects.filter(has_deliveries=False).values_list("on", flat=True)
    assert [day.day for day in shut] == [5, 12, 19]
    assert Day.objects.get(may_run_machines=False).on == date(2027, 9, 11)
    assert Day.objects.get(on=date(2027, 9, 5)).quiet_until_minute == 11 * 60


def test_nothing_in_it_lies_in_the_future_of_its_morning(demo: Shop) -> None:
    assert LogEntry.objects.first().at < MOMENT
    assert Receipt.objects.order_by("-at").first().at < MOMENT


@pytest.mark.django_db
def test_its_dates_move_so_that_the_story_begins_today() -> None:
    load_demo(now=datetime(2028, 3, 1, 20, 0, tzinfo=UTC))
    build = Build.objects.get(slug="tuppence")
    assert build.event_on == date(2028, 3, 22)
    # Noon on the shop's wall, which is on winter time by then.
    assert build.pack_out_at == datetime(2028, 3, 20, 12, 0, tzinfo=UTC)
    first = Window.objects.order_by("on").first()
    assert (first.on, first.from_minute) == (date(2028, 3, 1), 19 * 60)


def test_it_refuses_a_shop_that_holds_anything(demo: Shop) -> None:
    with pytest.raises(Clash, match="holds something already: 1 shop, 2 people, 3 "):
        load_demo(now=timezone.now())
    assert Build.objects.count() == 3


@pytest.mark.django_db
def test_it_refuses_a_shop_in_which_somebody_is_at_home() -> None:
    PersonFactory()
    with pytest.raises(Clash, match="1 person. The demo goes into an empty one only"):
        load_demo(now=timezone.now())
