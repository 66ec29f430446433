"""Each thing in a task's way is one reason, in words, with when it clears."""

from __future__ import annotations

from datetime import timedelta

from fabshop import words
from fabshop.reckoning.facts import DayFact
from fabshop.reckoning.readiness import Outlook
from tests.reckoning.facts_for import (
    NOW,
    at,
    component,
    done,
    missing,
    order,
    promise,
    shop,
    span,
    task,
)

OPEN = (span(0, 16, 21), span(1, 18, 21))


def reasons(name, tasks, parts=(), orders=(), **said):
    facts = shop(tasks, parts, orders, **{"windows": OPEN, **said})
    return Outlook(facts).reasons(facts.task_by_id[name])


def only(name, tasks, parts=(), **said):
    (reason,) = reasons(name, tasks, parts, **said)
    return reason


def test_a_wanted_part_names_its_line_and_day():
    one = order("P1", promises=(promise(1),))
    reason = only("A", [task("A", needs="P1/1")], orders=[one])
    assert reason.why is words.Why.WANTS_PARTS
    assert (reason.lines, reason.clears_at) == (("P1/1",), at(1, 18))


def test_another_task_comes_first():
    reason = only("B", [task("A"), task("B", after="A")])
    assert reason.why is words.Why.AFTER_ANOTHER
    assert reason.sentence == "after A Job A"
    assert (reason.tasks, reason.clears_at) == (("A",), at(0, 18))


def test_the_work_of_a_teardown_comes_before_what_is_done_closed_up():
    tasks = [
        task("A", in_teardown=True),
        task("Z", in_teardown=True, closed_up=True),
    ]
    reason = only("Z", tasks)
    assert reason.why is words.Why.AFTER_ANOTHER
    assert reason.sentence == "after the teardown: A to do on the opened machine"


def test_a_cure_says_until_when():
    glued = done("A", cured_at=NOW + timedelta(hours=2))
    reason = only("B", [glued, task("B", after="A")])
    assert reason.why is words.Why.CURING
    assert reason.sentence == "A cures until Mon 5 May 19:00"
    assert reason.clears_at == at(0, 19)


def test_an_unsigned_hold_forbids_to_close_its_zone():
    tasks = [task("H", is_hold=True, reach="loom"), task("A", fits="seat")]
    parts = [component("loom", "seat"), component("seat", is_on=False)]
    reason = only("A", tasks, parts)
    assert reason.why is words.Why.ON_HOLD
    assert reason.sentence == "hold H is not signed: seat may not go on before"
    assert reason.clears_at == at(0, 18)


def test_a_failed_hold_clears_nobody_knows_when():
    failed = task("H", is_hold=True, hold=words.HoldVerdict.FAILED, title="Test")
    reason = only("A", [failed, task("A", after="H")])
    assert reason.why is words.Why.ON_HOLD
    assert (reason.sentence, reason.clears_at) == ("hold H failed: Test", None)


def test_what_is_shut_in_lists_what_comes_off_and_how_long_that_takes():
    parts = [
        component("seat", "lid"),
        component("lid", off_minutes=None),
    ]
    reason = only("A", [task("A", fits="seat")], parts)
    assert reason.why is words.Why.SHUT_IN
    assert (reason.components, reason.minutes) == (("lid", "seat"), 5)
    assert reason.sentence == (
        "lid seat off first, at least 5 min; nobody has noted the minutes of lid"
    )


def test_what_is_bonded_says_that_it_would_be_cut_out():
    cowl = component("cowl", for_good=True)
    reason = only("A", [task("A", reach="dash")], [component("dash", "cowl"), cowl])
    assert reason.sentence.endswith("; cowl is for good: off only cut out")


def test_a_closed_up_task_waits_for_what_lies_on_the_bench():
    parts = [component("seat", is_on=False), missing("lamp"), component("lid")]
    reason = only("A", [task("A", closed_up=True)], parts)
    assert reason.sentence == "done with everything on: seat off"


def test_out_of_hours_says_when_hours_begin():
    reason = only("A", [task("A")], windows=(span(1, 18, 21),))
    assert reason.why is words.Why.OUT_OF_HOURS
    assert reason.sentence == "hours begin Tue 6 May 18:00"
    assert reason.clears_at == at(1, 18)
    none = only("A", [task("A")], windows=())
    assert none.sentence == "no hours entered after Mon 5 May 17:00"
    assert none.clears_at is None


def test_a_helper_at_the_bench_makes_it_hours():
    helping = (("Hal", span(0, 16, 18)),)
    assert reasons("A", [task("A")], windows=(), helper_windows=helping) == ()


def test_noise_waits_for_the_end_of_the_quiet_hours():
    days = (DayFact(NOW.date(), quiet_until=at(0, 18)),)
    reason = only("A", [task("A", noisy=True)], days=days)
    assert reason.sentence == "quiet until Mon 5 May 18:00"
    assert reasons("A", [task("A")], days=days) == ()


def test_all_reasons_are_given_the_weightiest_first():
    tasks = [
        task("A"),
        task("H", is_hold=True, reach="loom"),
        task("B", after="A", fits="seat", needs="P1/1"),
    ]
    parts = [component("loom", "seat"), component("seat")]
    found = reasons("B", tasks, parts, [order("P1")], windows=(span(1, 18, 21),))
    assert [reason.why for reason in found] == [
        words.Why.WANTS_PARTS,
        words.Why.AFTER_ANOTHER,
        words.Why.ON_HOLD,
        words.Why.SHUT_IN,
        words.Why.OUT_OF_HOURS,
    ]
