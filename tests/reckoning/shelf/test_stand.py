"""What is wanted against what is there, in the order of the days."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from fabshop.reckoning.shelf import PlannedDay, stands, warnings_of
from tests.reckoning.facts_for import day, shop
from tests.reckoning.shelf.shelf_for import resin, stand, wanting


def test_needs_are_summed_and_what_is_short_is_said() -> None:
    """The check by hand: 95 + 120 + 210 + 130 = 555 of 410, short 145."""
    found = stand(resin(), ("A", 95, 0), ("B", 120, 5), ("C", 210, 5), ("D", 130, 6))
    assert (found.wanted_milli, found.short_milli) == (555_000, 145_000)
    assert found.sentence == "555 g wanted, 410 g left: short 145 g"
    assert [use.lacking_milli for use in found.uses] == [0, 0, 15_000, 130_000]


def test_who_comes_first_by_day_has_first() -> None:
    found = stand(resin(left=100), ("A", 80, 9), ("B", 80, 2), ("C", 10, None))
    assert [(use.task, use.lacking_milli) for use in found.uses] == [
        ("B", 0),
        ("A", 60_000),
        ("C", 10_000),
    ]


def test_stock_of_the_planned_day_counts_not_of_today() -> None:
    """Row 44: good today, gone off when it is wanted."""
    found = stand(resin(use_by_on=day(4)), ("A", 10, 3), ("B", 10, 6))
    assert [use.task for use in found.too_late] == ["B"]
    assert found.sentence.startswith("goes off ")
    assert found.sentence.endswith("before B")
    assert ", before " in warnings_of([found])["B"][0]
    assert not any(use.is_held for use in found.uses)


def test_gone_off_it_is_held_unless_the_owner_let_it_through() -> None:
    """Row 44: hold at use; the reason is told where it is used."""
    off = resin(use_by_on=day(-3), let=(("B", "test piece set hard"),))
    found = stand(off, ("A", 1, 0), ("B", 1, 0))
    assert [use.is_held for use in found.uses] == [True, False]
    said = warnings_of([found])
    assert said["A"][0].endswith("It is held when used.")
    assert said["B"][0].endswith("Let through: test piece set hard")


def test_what_nobody_said_is_unsaid_and_not_nothing() -> None:
    found = stand(resin(), ("A", None, 0), ("B", 10, 0))
    assert found.unsaid == ("A",)
    assert found.wanted_milli == 10_000


def test_unknown_dates_warn() -> None:
    """Row 45."""
    found = stand(resin(use_by_on=None), ("A", 1, 0))
    assert found.has_dates_unknown
    assert warnings_of([found])["A"] == (
        "C1 epoxy: nobody knows until when it is good.",
    )


def test_on_an_unknown_day_its_last_good_day_is_told() -> None:
    found = stand(resin(), ("A", 1, None))
    assert "nobody knows on what day this is done" in warnings_of([found])["A"][0]


def test_a_task_that_may_still_come_too_late_is_given_a_last_day() -> None:
    thing = resin(use_by_on=day(4))
    days = {"A": PlannedDay(day(1), day(6), day(9))}
    found = stands([thing], shop([wanting("C1", "A", 5)]), days)
    assert "to be done by" in warnings_of(found)["A"][0]


def test_a_count_below_nothing_says_by_how_much_it_is_wrong() -> None:
    """Row 46: it is looked at, not clipped; all that is wanted is short."""
    found = stand(resin(left=-2), ("A", 5, 0))
    assert found.sentence.startswith("count wrong by 2 g, look")
    assert found.short_milli == 5_000


@given(
    left=st.integers(-50, 300),
    wanted=st.lists(st.tuples(st.integers(0, 100), st.none() | st.integers(0, 9))),
)
def test_what_each_lacks_adds_up_to_what_is_short(
    left: int, wanted: list[tuple[int, int | None]]
) -> None:
    uses = [(f"T{n}", grams, on) for n, (grams, on) in enumerate(wanted)]
    found = stand(resin(left=left), *uses)
    assert sum(use.lacking_milli for use in found.uses) == found.short_milli
