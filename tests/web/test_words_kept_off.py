"""Words that carry other programs' ways with them stand on no page and no sheet."""

from __future__ import annotations

import re

import pytest

from tests.web.addresses import addresses

pytestmark = pytest.mark.django_db

KEPT_OFF = (
    *("dashboard", "inbox", "board", "lane", "backlog", "sprint", "ticket"),
    *("epic", "milestone", "assignee", "nest", "dock", "bin"),
)
WORD = re.compile(rf"\b({'|'.join(KEPT_OFF)})s?\b", re.IGNORECASE)
# Things of the demo shop itself, and where its firms have their yards.
IN_THE_DEMO = re.compile(
    r"(nail|power|spare|circuit) boards?|board SP\d|(Gasworks|Clove|Sallow) Lane",
    re.IGNORECASE,
)


def shown(page: str) -> str:
    """The words that are read: no markup, no style, no script."""
    page = re.sub(r"<(script|style)\b.*?</\1>", " ", page, flags=re.DOTALL)
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))


def test_the_words_are_on_no_page_and_no_sheet(client, odile, demo_plan, frozen):
    client.force_login(odile)
    found = {}
    for path in addresses():
        text = IN_THE_DEMO.sub(" ", shown(client.get(path).text))
        if seen := WORD.search(text):
            found[path] = text[max(0, seen.start() - 40) : seen.end() + 40]
    assert found == {}


def test_the_look_finds_what_it_looks_for():
    assert WORD.search(shown("<p>My <b>Dashboard</b></p>"))
    assert not WORD.search(shown("<p class='board'>a combine, cupboard, nested</p>"))
