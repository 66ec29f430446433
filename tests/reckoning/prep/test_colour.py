"""Colours judged by a table, or by nobody but a person."""

from __future__ import annotations

from fabshop.reckoning.prep import judge
from fabshop.words import Colour, Verdict

TABLE = {Colour.SILVER: Verdict.ACCEPT, Colour.BLUE: Verdict.REJECT}


def test_a_table_judges_what_it_names_and_says_where_it_is_from() -> None:
    judged = judge(Colour.BLUE, TABLE, table="Ours", source="sample board")
    assert judged.verdict is Verdict.REJECT
    assert (judged.table, judged.source) == ("Ours", "sample board")


def test_what_no_table_names_is_for_a_person() -> None:
    assert judge(Colour.GOLD, TABLE, table="Ours").verdict is Verdict.PERSON
    assert judge(Colour.SILVER, {}, table="Ours").verdict is Verdict.PERSON
    assert judge(Colour.SILVER, {}, table="Ours").table == ""
