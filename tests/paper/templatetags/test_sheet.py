"""The tags of the sheets: the foot and its QR, and stamps."""

from __future__ import annotations

from datetime import UTC, datetime

from django.template import Context, Template

from fabshop import words
from fabshop.paper.sheet import Sheet

SHEET = Sheet(
    name="s",
    title="Sheet",
    template="",
    path="/plans/7/",
    code="WREN A",
    filename="s",
    subject="Wren",
    made_at=datetime(2027, 9, 3, tzinfo=UTC),
    offset_minutes=0,
)


def rendered(text: str, **more: object) -> str:
    context = {"sheet": SHEET, "base_url": "http://s", "made": "made", **more}
    return Template("{% load sheet %}" + text).render(
        Context({"digest": "", **context})
    )


def test_the_foot_leads_to_the_sheet() -> None:
    html = rendered("{% foot %}")
    assert 'alt="QR of http://s/plans/7/"' in html
    assert "foot--again" not in html


def test_the_foot_of_a_step_leads_to_the_step_and_says_its_number() -> None:
    html = rendered("{% foot '/plans/7/steps/14/' 14 %}")
    assert 'alt="QR of http://s/plans/7/steps/14/"' in html
    assert "WREN A 14" in html
    assert "foot--again" in html


def test_a_stamp_has_the_edge_it_has_on_the_phone() -> None:
    word = words.ComponentState.STAND_IN
    html = rendered("{% stamp word %}", word=word)
    assert html == '<span class="stamp stamp--dashed">STAND-IN</span>'
