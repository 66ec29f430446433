"""Statements about yes and no, each on a question made for it."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.reckoning import solver
from fabshop.reckoning.teardown.choice import Choice
from fabshop.reckoning.teardown.scope import whole_scope
from tests.reckoning.teardown.asked import DECK, LID, LOOM, problem

SCREEN = {"id": "screen", "off": 1, "on": 2, "state": "absent"}
GLUE = {"id": "glue", "minutes": 5, "fits": ["screen"]}


def can(
    choice: Choice,
    *,
    yes: tuple[Any, ...] = (),
    no: tuple[Any, ...] = (),
) -> bool:
    for literal in yes:
        choice.model.add(literal == 1)
    for literal in no:
        choice.model.add(literal == 0)
    return solver.run(choice.model, limit_s=10).is_solved


def choice_of(sessions: int = 1, **changes: Any) -> Choice:
    asked = problem(**changes)
    return Choice(asked, whole_scope(asked, sessions))


def test_a_place_comes_off_only_when_what_lies_over_it_does() -> None:
    choice = choice_of()
    assert not can(choice, yes=(choice.removed[1, 0],), no=(choice.removed[0, 0],))


def test_handling_counts_set_up_off_and_on() -> None:
    choice = choice_of(setup_minutes=5)
    choice.model.add(choice.taken[0] == 1)
    choice.model.minimize(choice.handling())
    assert solver.run(choice.model, limit_s=10).best == 5 + 4 + 6 + 6 + 9


def test_one_place_is_put_on_once_in_a_session() -> None:
    again = {**GLUE, "id": "again"}
    choice = choice_of(components=[SCREEN], tasks=[GLUE, again])
    assert not can(choice, yes=(choice.taken[0], choice.taken[1]))


def test_two_fits_of_one_place_go_into_two_sessions() -> None:
    again = {**GLUE, "id": "again"}
    changes = {"components": [SCREEN], "tasks": [GLUE, again]}
    choice = choice_of(2, **changes)
    assert can(choice, yes=(choice.taken[0], choice.taken[1]))


def test_what_is_bonded_never_comes_off_again() -> None:
    bond, again = {**GLUE, "for_good": True}, {**GLUE, "id": "again"}
    choice = choice_of(2, components=[SCREEN], tasks=[bond, again])
    assert not can(choice, yes=(choice.done[0, 0], choice.done[1, 1]))


def test_a_task_brings_what_it_comes_after() -> None:
    choice = choice_of(tasks=[LOOM, {"id": "test", "minutes": 5, "after": ["loom"]}])
    assert not can(choice, yes=(choice.taken[1],), no=(choice.taken[0],))


@pytest.mark.parametrize("sessions", [1, 2])
def test_what_lay_off_is_put_back_in_the_last_session(sessions: int) -> None:
    changes = {"components": [{**LID, "state": "off"}, DECK]}
    choice = choice_of(sessions, **changes)
    last = sessions - 1
    assert not can(choice, yes=(choice.used[last],), no=(choice.refitted[0, last],))


def test_what_lay_off_stays_off_until_the_last_session() -> None:
    choice = choice_of(2, components=[{**LID, "state": "off"}, DECK])
    assert not can(choice, yes=(choice.used[1], choice.refitted[0, 0]))


def test_a_session_without_a_task_is_no_session() -> None:
    choice = choice_of(2)
    assert not can(choice, yes=(choice.used[0], choice.used[1]))


def test_a_task_cannot_close_what_it_needs_open() -> None:
    choice = choice_of(tasks=[{**LOOM, "fits": ["deck"]}])
    assert not can(choice, yes=(choice.taken[0],))
