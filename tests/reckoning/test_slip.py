"""Before another day is saved, it is said what that day does to the tasks."""

from dataclasses import replace
from datetime import date, datetime

from fabshop import words
from fabshop.reckoning.facts import (
    BuildFact,
    Facts,
    FallbackFact,
    LineFact,
    NeedFact,
    OrderFact,
    PromiseFact,
    Span,
    TaskFact,
)
from fabshop.reckoning.slip import effect_of_slip, with_promise

NOW = datetime(2027, 9, 3, 6, 45)
EVENINGS = tuple(
    Span(datetime(2027, 9, day, 19), datetime(2027, 9, day, 22)) for day in range(3, 22)
)
BOARD = TaskFact(
    "W21",
    "tuppence",
    "Fit power board",
    minutes=50,
    needs=(NeedFact(words.NeedKind.ORDER, "P06/1"),),
    fallbacks=(FallbackFact("Spare board SP2", 42),),
)
ORDER = OrderFact(
    "P06",
    "Power board",
    "Ostler Electric",
    words.OrderKind.BOUGHT,
    words.Move.FIRM,
    sent_on=date(2027, 8, 24),
    promises=(PromiseFact("", date(2027, 9, 18), None, "", NOW),),
    lines=(LineFact("P06/1", "P06", "Board", words.Hand.NONE, words.Unit.PIECE, 1000),),
)
SHOP = Facts(
    now=NOW,
    builds=(BuildFact("tuppence", "Tuppence", pack_out=datetime(2027, 9, 22, 12)),),
    tasks=(BOARD,),
    orders=(ORDER,),
    windows=EVENINGS,
)


def test_a_day_that_leaves_time_says_when_the_task_comes_free():
    lead, *told = effect_of_slip(SHOP, "P06", eta_on=date(2027, 9, 20))
    assert lead == "W21 can still begin in time, and all that follows."
    assert told == [
        "W21 Fit power board comes free Mon 20 Sep 18:00, not Sat 18 Sep 18:00."
    ]


def test_a_day_too_late_names_the_task_its_last_moment_and_its_plan_b():
    lead, lost = effect_of_slip(SHOP, "P06", eta_on=date(2027, 9, 22))
    assert lead == "With this part W21 can no longer be done in time."
    assert lost == (
        "W21 Fit power board comes free Wed 22 Sep 18:00, not Sat 18 Sep 18:00; "
        "it must begin by Tue 21 Sep 21:10. Plan B: Spare board SP2 (42 min)."
    )


def test_what_follows_too_late_is_named_once():
    loom = TaskFact("W22", "tuppence", "Lay in loom", minutes=170, after=("W21",))
    both = replace(SHOP, tasks=(BOARD, loom))
    lead, told, behind = effect_of_slip(both, "P06", eta_on=date(2027, 9, 21))
    assert lead == "With this part W21 can no longer be done in time."
    assert "it must begin by Mon 20 Sep" in told
    assert behind == "Too late behind it: W22."


def test_a_plan_that_begins_the_task_before_the_day_is_told():
    told = effect_of_slip(
        SHOP,
        "P06",
        eta_on=date(2027, 9, 20),
        planned={"W21": datetime(2027, 9, 19, 14, 11)},
    )
    assert "The accepted plan begins W21 Sun 19 Sep 14:11, before that." in told


def test_words_without_a_day_leave_the_day_unknown():
    told = effect_of_slip(SHOP, "P06", eta_on=None, said="??")
    assert any("on a day nobody knows" in sentence for sentence in told)


def test_an_order_for_nothing_moves_nothing():
    alone = replace(SHOP, tasks=(replace(BOARD, needs=()),))
    assert effect_of_slip(alone, "P06", eta_on=date(2027, 9, 30)) == (
        "No task hangs on it: nothing else moves.",
    )


def test_the_word_is_added_to_those_before_it():
    then = with_promise(SHOP, "P06", eta_on=date(2027, 9, 20))
    assert [p.eta_on for p in then.orders[0].promises] == [
        date(2027, 9, 18),
        date(2027, 9, 20),
    ]
    assert len(SHOP.orders[0].promises) == 1
