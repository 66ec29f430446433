"""A need is filled by good pieces only, and those who share a line take turns."""

from __future__ import annotations

import random

import pytest

from fabshop import words
from fabshop.reckoning.readiness import wants
from tests.reckoning.facts_for import (
    day,
    done,
    line,
    order,
    promise,
    shop,
    task,
    unsent,
)


def wanting(tasks, *orders):
    """Which lines each task still lacks."""
    found = wants(shop(tasks, orders=orders))
    return {name: [want.line for want in lacking] for name, lacking in found.items()}


def sentence(one, *, needs="P1/1"):
    return wants(shop([task("A", needs=needs)], orders=[one]))["A"][0].sentence


@pytest.mark.parametrize(
    ("came", "free"),
    [
        ({}, False),
        ({"accepted_milli": 1000}, False),
        ({"accepted_milli": 2000}, True),
        ({"wrong_milli": 2000}, False),
        ({"in_the_box": True}, False),
        ({"accepted_milli": 1000, "written_off_milli": 1000}, True),
        ({"written_off_milli": 2000}, False),
    ],
)
def test_a_need_without_quantity_is_the_whole_line_less_what_was_refunded(came, free):
    one = order("P1", line("P1/1", 2, **came))
    assert (wanting([task("A", needs="P1/1")], one) == {}) is free


def test_a_need_with_a_quantity_is_filled_by_a_short_line():
    # 45 of 60 screws came, the rest was refunded; 14 are needed.
    screws = line("P14/1", 60, accepted_milli=45_000, written_off_milli=15_000)
    assert wanting([task("A", needs="P14/1=14")], order("P14", screws)) == {}
    assert wanting([task("A", needs="P14/1=46")], order("P14", screws)) == {
        "A": ["P14/1"]
    }


def test_those_who_share_a_line_draw_in_order_of_code():
    pods = order("P5", line("P5/1", 2, accepted_milli=1000))
    tasks = [task("W65", needs="P5/1=1"), task("W20", needs="P5/1=1")]
    assert wanting(tasks, pods) == {"W65": ["P5/1"]}


def test_a_task_under_way_has_had_its_pieces():
    pods = order("P5", line("P5/1", 2, accepted_milli=1000))
    begun = task("W65", needs="P5/1=1", state=words.TaskState.UNDER_WAY)
    assert wanting([begun, task("W20", needs="P5/1=1")], pods) == {"W20": ["P5/1"]}


def test_what_finished_tasks_used_is_gone():
    pods = order("P5", line("P5/1", 2, accepted_milli=1000, taken_milli=1000))
    assert wanting([task("A", needs="P5/1=1")], pods) == {"A": ["P5/1"]}


def test_several_who_need_a_whole_line_all_wait_and_all_go():
    tasks = [task(name, needs="P11/1") for name in ("W04", "W54", "W63")]
    assert len(wanting(tasks, order("P11", line("P11/1", 0.4)))) == 3
    here = order("P11", line("P11/1", 0.4, accepted_milli=400))
    assert wanting(tasks, here) == {}


def test_pieces_ordered_again_are_waited_for_on_the_new_line():
    ducts = order(
        "P2",
        line("P2/1", accepted_milli=1000),
        line(
            "P2/2",
            wrong_milli=1000,
            written_off_milli=1000,
            reordered=(("P3/1", 1000),),
        ),
    )
    one = task("W13", needs="P2/1 P2/2")
    assert wanting([one], ducts, unsent("P3")) == {"W13": ["P3/1"]}
    came = order("P3", line("P3/1", accepted_milli=1000))
    assert wanting([one], ducts, came) == {}


def test_a_quantity_draws_on_the_line_that_makes_good():
    first = line(
        "P1/1",
        2,
        accepted_milli=1000,
        written_off_milli=1000,
        reordered=(("P2/1", 1000),),
    )
    again = line("P2/1", accepted_milli=1000)
    one = task("A", needs="P1/1=2")
    assert wanting([one], order("P1", first), order("P2", again)) == {}


def test_giving_up_an_order_frees_nobody():
    given_up = order("P1", given_up=True)
    assert wanting([task("A", needs="P1/1")], given_up) == {"A": ["P1/1"]}
    assert sentence(given_up) == "P1 part P1/1: the order was given up"


def test_finished_tasks_want_nothing_and_rack_and_tools_are_in_hand():
    assert wanting([done("A", needs="P1/1")], order("P1")) == {}
    assert wanting([task("B", needs="C01")]) == {}


def test_a_want_says_whose_move_it_is_and_by_how_much_it_slipped():
    slipped = order("P1", promises=(promise(2), promise(11)))
    assert sentence(slipped) == (
        "P1 part P1/1: with them, Fri 16 May, first promised Wed 7 May, 9 days late"
    )
    assert sentence(unsent("P1")) == (
        "P1 part P1/1: with me, not sent; sent today it comes Sat 10 May"
    )
    box = order("P1", line("P1/1", in_the_box=True))
    assert sentence(box) == "P1 part P1/1: here, still in the box"
    refunded = order("P1", line("P1/1", written_off_milli=1000))
    assert sentence(refunded) == "P1 part P1/1: nothing more is coming"


def test_a_want_says_what_came_short_or_wrong():
    short = line("P1/1", 12, accepted_milli=9000, wrong_milli=2000, came_on=day(0))
    assert sentence(order("P1", short)) == (
        "P1 part P1/1: 9 of 12 came, 2 wrong; with them, "
        "nobody has said when the rest comes"
    )


def test_never_more_is_drawn_than_came():
    for seed in range(80):
        chance = random.Random(seed)
        accepted = chance.randint(0, 6)
        tasks = [
            task(f"A{n}", needs=f"P1/1={chance.randint(1, 3)}")
            for n in range(chance.randint(1, 5))
        ]
        lacking = wants(
            shop(
                tasks,
                orders=[order("P1", line("P1/1", 20, accepted_milli=accepted * 1000))],
            )
        )
        drawn = sum(
            (need.quantity_milli or 0)
            for one in tasks
            if one.id not in lacking
            for need in one.needs
        )
        assert drawn <= accepted * 1000, seed
        filled = [one.id not in lacking for one in tasks]
        assert filled == sorted(filled, reverse=True), "turns are by code"
