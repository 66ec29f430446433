"""The question says what the facts say, and the answer to it can be reckoned."""

from __future__ import annotations

import pytest

from fabshop import words
from fabshop.errors import BadInput, BadQuestion, NotFound
from fabshop.reckoning.ask import reckon
from fabshop.reckoning.batching import default_tasks, teardown_batch
from fabshop.reckoning.facts import RunFact
from fabshop.reckoning.questions import parse
from tests.reckoning.facts_for import (
    at,
    build,
    component,
    done,
    finished,
    line,
    missing,
    order,
    promise,
    shop,
    task,
)

PARTS = (
    component("seat", "lid"),
    component("lid"),
    component("loom", "seat", is_on=False),
    missing("lamp", "lid"),
    component("rail", build="carrier"),
)


def planned(id, **said):
    return task(id, in_teardown=True, **said)


def asked(known, parts=PARTS, orders=(), *, facts=None, **said):
    facts = facts or shop(known, parts, orders)
    batch = teardown_batch(facts, "buggy", **said)
    parse("teardown", batch.question)
    return batch


def about(batch, id):
    (found,) = [one for one in batch.question["tasks"] if one["id"] == id]
    return found


def test_components_are_asked_as_the_machine_stands_now():
    batch = asked([planned("A", fits=("lamp",))])
    found = {one["id"]: one for one in batch.question["components"]}
    assert {name: one["state"] for name, one in found.items()} == {
        "seat": "fitted",
        "lid": "fitted",
        "loom": "off",
        "lamp": "absent",
    }
    assert found["seat"] == {
        "id": "seat",
        "off": 5,
        "on": 7,
        "routes": [["lid"]],
        "state": "fitted",
    }
    assert found["lid"]["routes"] == [[]]


def test_unknown_minutes_count_as_nothing_and_are_named():
    parts = [
        component("lid", off_minutes=None),
        component("seat", "lid"),
        component("beside", off_minutes=None),
    ]
    batch = asked([planned("A", opens=("seat",))], parts)
    assert batch.unknown_minutes == ("lid",)
    assert batch.question["components"][0]["off"] == 0


def test_a_task_is_asked_with_all_that_is_known_of_it():
    one = planned(
        "A",
        minutes=61,
        remove="seat",
        fits="lamp",
        for_good=True,
        cure=600,
        keeps_open="seat",
        unbroken=True,
        required=False,
        points=4,
    )
    facts = shop([one], PARTS, finished=tuple(finished("other", *[90] * 5)))
    assert about(asked([], facts=facts), "A") == {
        "id": "A",
        "minutes": 92,
        "reach": [],
        "remove": ["seat"],
        "fits": ["lamp"],
        "for_good": True,
        "cure": 600,
        "keeps_open": ["seat"],
        "unbroken": True,
        "closed": False,
        "after": [],
        "required": False,
        "points": 4,
    }


def test_a_place_worked_on_is_reached_where_nothing_closer_is_said():
    batch = asked([planned("A", opens="seat"), planned("B", opens="seat", fits="lid")])
    assert about(batch, "A")["reach"] == ["seat"]
    assert about(batch, "B")["reach"] == []


def test_a_hold_keeps_open_what_lies_over_its_zone():
    one = planned("H", is_hold=True, reach="loom seat")
    assert about(asked([one]), "H")["keeps_open"] == ["lid"]


def test_the_windows_run_from_the_beginning_to_the_deadline():
    facts = shop([], builds=(build(pack_out=at(2, 19)),), now=at(0, 18, 30))
    question = asked([], facts=facts).question
    assert question["windows"] == [
        ["2031-05-05T18:30", "2031-05-05T21:00"],
        ["2031-05-06T18:00", "2031-05-06T21:00"],
        ["2031-05-07T18:00", "2031-05-07T19:00"],
    ]
    assert question["deadline"] == "2031-05-07T19:00"
    later = asked([], facts=facts, begin=at(1, 20)).question
    assert later["windows"][0] == ["2031-05-06T20:00", "2031-05-06T21:00"]


def test_seconds_of_now_are_rounded_up_to_the_minute():
    facts = shop([], now=at(0, 18, 30).replace(second=7))
    assert asked([], facts=facts).question["windows"][0][0] == "2031-05-05T18:31"


def test_by_default_the_planned_tasks_are_taken_and_shared_ones_that_follow_them():
    tasks = [
        planned("A"),
        planned("B", state=words.TaskState.DONE),
        task("C"),
        planned("D", build="carrier"),
        planned("E", build="", after="C A"),
        planned("F", build="", after="D"),
    ]
    facts = shop(tasks)
    assert default_tasks(facts, "buggy") == ("A", "E")


def test_others_that_work_on_the_machine_are_offered():
    tasks = [planned("A", fits="lid"), task("B", fits="seat"), task("C"), done("D")]
    batch = asked(tasks)
    assert (batch.tasks, batch.offered) == (("A",), ("B",))
    chosen = asked(tasks, tasks=("B",))
    assert (chosen.tasks, chosen.offered) == (("B",), ("A",))


def test_finished_and_unknown_tasks_are_left_away_and_said():
    batch = asked([done("A"), task("B")], tasks=("A", "B", "X"))
    assert batch.tasks == ("B",)
    assert batch.notes == (
        "A is finished and left away",
        "X is no open task of Buggy",
    )


def test_a_task_is_ready_when_its_parts_come_likely_or_late():
    orders = [order("P1", promises=(promise(2, 6),))]
    tasks = [planned("A", needs="P1/1")]
    assert about(asked(tasks, orders=orders), "A")["ready"] == "2031-05-07T18:00"
    late = asked(tasks, orders=orders, dates="late")
    assert about(late, "A")["ready"] == "2031-05-11T18:00"


def test_what_begins_after_it_is_ready_says_nothing_of_it():
    orders = [order("P1", promises=(promise(2),))]
    batch = asked([planned("A", needs="P1/1")], orders=orders, begin=at(4, 18))
    assert "ready" not in about(batch, "A")


def test_a_part_nobody_can_date_leaves_the_task_out_and_says_so():
    unknown = order("P1", promises=(promise(None, said="?"),), lead_late_days=None)
    tasks = [planned("A", needs="P1/1", fits="lid"), planned("B", fits="seat")]
    batch = asked(tasks, orders=[unknown])
    assert about(batch, "A")["ready"] == batch.question["deadline"]
    assert batch.notes[0].startswith("A waits for P1 part P1/1: with them, they say")
    answer = reckon("teardown", batch.question)
    assert [one["task"] for one in answer["left_out"]] == ["A"]


def test_a_task_outside_comes_first_at_its_earliest():
    orders = [order("P1", promises=(promise(1),))]
    tasks = [task("X", needs="P1/1", minutes=30), planned("A", after="X")]
    batch = asked(tasks, orders=orders)
    assert about(batch, "A")["ready"] == "2031-05-06T18:30"
    assert batch.notes == (
        "A comes after X Job X: done Tue 6 May 18:30 at the earliest",
    )


def test_order_in_the_teardown_holds_by_way_of_a_task_outside_it():
    tasks = [planned("A"), task("X", after="A"), planned("B", after="X")]
    assert about(asked(tasks), "B")["after"] == ["A"]
    broken = [planned("A"), done("X", after="A"), planned("B", after="X")]
    assert about(asked(broken), "B")["after"] == []


def test_what_is_left_of_a_task_comes_behind_the_run_that_is_on():
    on = RunFact(1, "small", at(0, 8), at(2, 9))
    batch = asked([planned("A", reach=("seat",), run=on)])
    assert about(batch, "A")["ready"] == "2031-05-07T09:00"


def test_a_cure_before_it_is_waited_for():
    tasks = [done("X", cured_at=at(1, 7)), planned("A", after="X")]
    assert about(asked(tasks), "A")["ready"] == "2031-05-06T07:00"


def test_another_build_that_is_late_does_not_hold_this_one_up():
    tasks = [
        task("X", build="carrier", minutes=100_000),
        planned("A", after="X", closed_up=True),
    ]
    builds = (build(), build("carrier"))
    facts = shop(tasks, builds=builds)
    batch = asked([], facts=facts, wait_for="each")
    assert "ready" not in about(batch, "A")
    assert batch.notes == (
        "A comes after X Job X: nobody knows when it is done; "
        "it does not hold this teardown up",
    )
    mine = shop([task("X", minutes=100_000), planned("A", after="X")])
    held = asked([], facts=mine)
    assert about(held, "A")["ready"] == held.question["deadline"]


def test_waiting_for_all_packing_does_not_hold_up_the_start():
    tasks = [task("X", minutes=300), planned("A", after="X", closed_up=True)]
    waiting_for_all = asked(tasks)
    assert "ready" not in about(waiting_for_all, "A")
    (wait,) = waiting_for_all.waits
    assert (wait.task, wait.on, wait.done_at, wait.binds) == (
        "A",
        "X",
        at(1, 20),
        False,
    )
    each = asked(tasks, wait_for="each", begin=at(0, 18))
    assert about(each, "A")["ready"] == "2031-05-06T20:00"


def test_waiting_for_each_it_begins_when_all_but_the_last_part_are_in():
    orders = [order(f"P{n}", promises=(promise(n),)) for n in (1, 3, 5)]
    tasks = [planned(f"A{n}", needs=f"P{n}/1") for n in (1, 3, 5)]
    each = asked(tasks, orders=orders, wait_for="each")
    assert each.question["windows"][0][0] == "2031-05-08T18:00"
    both = asked(tasks, orders=orders)
    assert both.question["windows"][0][0] == "2031-05-05T18:00"
    assert (both.question["wait_for"], each.question["wait_for"]) == ("all", "each")


def test_a_build_without_pack_out_and_one_that_is_not_known_are_refused():
    facts = shop([], builds=(build(pack_out=None),))
    with pytest.raises(BadInput, match="no pack-out moment") as refused:
        teardown_batch(facts, "buggy")
    assert refused.value.field == "pack_out_at"
    with pytest.raises(NotFound, match="'truck'"):
        teardown_batch(facts, "truck")


def test_what_is_asked_can_be_answered():
    tasks = [
        planned("A", fits="lid", needs="P1/1"),
        planned("B", remove="seat", cure=600, keeps_open="seat"),
        planned("H", is_hold=True, reach="loom", after="B"),
        planned("Z", closed_up=True, minutes=10),
    ]
    come = order("P1", line("P1/1", accepted_milli=1000))
    answer = reckon("teardown", asked(tasks, orders=[come]).question)
    assert answer["status"] == "optimal"
    assert answer["totals"]["required"] == 4
    assert answer["left_out"] == []


def test_a_later_parcel_never_betters_the_plan():
    tasks = [planned("A", fits="lid", needs="P1/1"), planned("B", fits="seat")]
    finishes = []
    for eta in (1, 3, 6):
        orders = [order("P1", promises=(promise(eta),))]
        question = asked(tasks, orders=orders, prefer="early_finish").question
        answer = reckon("teardown", question)
        finishes.append(answer["sessions"][-1]["finish"])
    assert finishes == sorted(finishes)


def test_only_what_the_tasks_can_need_off_is_asked_about():
    parts = [
        component("deck", "lid", "skirt"),
        component("lid", "flag"),
        component("skirt"),
        component("flag"),
        component("tail", "deck"),
        component("case", is_on=False),
        missing("lamp"),
    ]
    batch = asked([planned("A", opens=("deck",), keeps_open=("lid", "tail"))], parts)
    names = {one["id"] for one in batch.question["components"]}
    assert names == {"deck", "lid", "skirt", "flag", "case"}
    assert about(batch, "A")["keeps_open"] == ["lid"]


def test_row_67_a_build_of_3000_components_is_asked_by_what_its_tasks_reach():
    """Row 67: a teardown plan with 3,000 parts: a plan in 4 s."""
    parts = []
    for number in range(3000):
        under = () if number % 10 == 0 else (f"c{number - 1}",)
        parts.append(component(f"c{number}", *under, off_minutes=1, on_minutes=1))
    tasks = [planned(f"T{n}", opens=(f"c{n * 100 + 7}",), minutes=20) for n in range(8)]
    batch = asked(tasks, parts)
    assert len(batch.question["components"]) == 8 * 8
    answer = reckon("teardown", {**batch.question, "time_limit_s": 4})
    assert answer["totals"]["required"] == 8
    setup = batch.question["setup_minutes"]
    assert answer["totals"]["handling_minutes"] == 8 * 7 * 2 + setup


def test_row_67_what_reaches_too_deep_is_refused_with_the_stated_size():
    parts = [component("c0")]
    parts += [component(f"c{n}", f"c{n - 1}") for n in range(1, 700)]
    with pytest.raises(BadQuestion, match="600"):
        asked([planned("A", opens=("c699",))], parts)
