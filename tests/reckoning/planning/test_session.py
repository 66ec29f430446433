"""A teardown's steps as work of the plan."""

from __future__ import annotations

from fabshop.reckoning.planning.session import Session

TASKS = [
    {"id": "glue", "cure": 600, "keeps_open": ["lid"]},
    {"id": "loom", "after": ["glue"]},
    {"id": "weigh", "closed": True},
]


def steps(*told):
    return [{"do": do, "id": name, "minutes": 5} for do, name in told]


def session(*told):
    answer = {
        "sessions": [{"start": "", "finish": "", "steps": steps(*told)}],
    }
    return Session("buggy", {"tasks": TASKS}, answer)


def test_handling_that_follows_each_other_is_one_block():
    blocks = session(
        ("remove", "lid"), ("remove", "seat"), ("task", "glue"), ("refit", "seat")
    ).blocks()
    assert [(b.do, b.ids, b.minutes) for b in blocks] == [
        ("remove", ("lid", "seat"), 10),
        ("task", ("glue",), 5),
        ("refit", ("seat",), 5),
    ]
    assert [b.id for b in blocks] == ["buggy/1", "glue", "buggy/3"]


def test_what_the_glue_keeps_open_and_what_comes_after_it_wait_for_its_cure():
    blocks = session(
        ("task", "glue"),
        ("refit", "seat"),
        ("refit", "lid"),
        ("task", "loom"),
        ("task", "weigh"),
    ).blocks()
    assert [b.waits for b in blocks] == [(), (), ("glue",), ("glue",), ("glue",)]


def test_its_tasks_are_told_in_order():
    assert session(("task", "loom"), ("task", "glue")).tasks == ("loom", "glue")
    assert Session("buggy", {}, {}).blocks() == ()
