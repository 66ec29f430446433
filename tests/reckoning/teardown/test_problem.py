"""The compiled question keeps what can matter and no more."""

from __future__ import annotations

from fabshop.reckoning.teardown.problem import start_spans
from tests.reckoning.teardown.asked import DECK, LID, LOOM, problem


def test_an_empty_route_makes_a_place_reachable_as_it_stands() -> None:
    open_deck = {**DECK, "routes": [["lid"], []]}
    place = problem(components=[LID, open_deck]).places[1]
    assert (place.routes, place.is_shut) == ((), False)


def test_a_route_that_holds_another_whole_is_no_choice() -> None:
    pan = {"id": "pan", "off": 1, "on": 1, "routes": [["lid", "deck"], ["lid"]]}
    assert problem(components=[LID, DECK, pan]).places[2].routes == ((0,),)


def test_an_absent_cover_that_nobody_fits_is_in_no_way() -> None:
    ghost = {**LID, "state": "absent"}
    assert problem(components=[ghost, DECK]).places[1].routes == ()
    fits = {**LOOM, "fits": ["lid"]}
    assert problem(components=[ghost, DECK], tasks=[fits]).places[1].routes == ((0,),)


def test_places_under_one_another_are_shut() -> None:
    ring = [{**LID, "routes": [["deck"]]}, DECK]
    assert [place.is_shut for place in problem(components=ring).places] == [True, True]


def test_unbroken_work_starts_where_a_window_has_room() -> None:
    asked = problem(tasks=[{**LOOM, "minutes": 170, "unbroken": True}])
    assert start_spans(asked.axis, asked.jobs[0]) == [(0, 10), (180, 190)]
    too_long = problem(tasks=[{**LOOM, "minutes": 181, "unbroken": True}])
    assert start_spans(too_long.axis, too_long.jobs[0]) == []


def test_ready_in_the_gap_is_ready_at_the_next_window() -> None:
    asked = problem(tasks=[{**LOOM, "ready": "2031-05-06T00:00"}])
    assert asked.jobs[0].earliest == 180
    never = problem(tasks=[{**LOOM, "ready": "2031-05-07T00:00"}])
    assert start_spans(never.axis, never.jobs[0]) == []
