"""Two pages of a sheet on one, to be folded for the apron."""

from __future__ import annotations

from io import BytesIO

import pytest
from pypdf import PageObject, PdfReader, PdfWriter

from fabshop.paper import apron, render
from tests.paper.pdf import sizes_mm, texts

THREE = "".join(
    f'<p style="break-after: page">page {number}</p>' for number in ("one", "two")
)
SHEET = f"<html><body><div class=foot>foot</div>{THREE}<p>page three</p></body></html>"


@pytest.mark.parametrize(
    ("paper", "size"), [("a4", (297, 210)), ("letter", (279, 216))]
)
def test_two_pages_lie_beside_each_other_in_their_order(
    paper: str, size: tuple[int, int]
) -> None:
    made = apron.pdf(SHEET, paper=paper)
    assert sizes_mm(made) == [size, size]
    first, last = texts(made)
    assert first == "page one foot 1/3 page two foot 2/3"
    assert last == "page three foot 3/3"


def test_nothing_runs_off_its_half() -> None:
    made = apron.two_up(render.pdf(SHEET))
    page = PdfReader(BytesIO(made)).pages[0]
    places: dict[str, tuple[float, float]] = {}

    def seen(text: str, matrix: list[float], at: list[float], *rest: object) -> None:
        if text.strip():
            places[text.strip()] = (
                at[4] * matrix[0] + matrix[4],
                at[5] * matrix[3] + matrix[5],
            )

    page.extract_text(visitor_text=seen)
    half = page.mediabox.width / 2
    assert 0 < places["page one"][0] < half < places["page two"][0]
    assert all(0 < y < page.mediabox.height for _, y in places.values())


def test_one_page_alone_leaves_the_other_half_blank() -> None:
    one = PdfWriter()
    one.add_page(PageObject.create_blank_page(width=595, height=842))
    written = BytesIO()
    one.write(written)
    assert sizes_mm(apron.two_up(written.getvalue())) == [(297, 210)]
