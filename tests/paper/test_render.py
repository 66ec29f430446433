"""PDF is made in the worker from what a sheet carries in itself, and nothing else."""

from __future__ import annotations

import logging
from io import BytesIO

import pytest
from pypdf import PdfReader

from fabshop.paper import render
from tests.paper.pdf import sizes_mm, texts

PAGE = "<html><body><div class=foot>foot</div><main>{}</main></body></html>"


@pytest.mark.parametrize(
    ("paper", "size"), [("a4", (210, 297)), ("letter", (216, 279))]
)
def test_both_papers_from_one_layout(paper: str, size: tuple[int, int]) -> None:
    made = render.pdf(PAGE.format("<p>Tighten 4×M4</p>"), paper=paper)
    assert made.startswith(b"%PDF")
    assert sizes_mm(made) == [size]
    assert texts(made) == ["Tighten 4×M4 foot 1/1"]


def test_each_page_has_the_foot_of_its_first_row_and_all_pages_counted() -> None:
    row = (
        '<tr style="height: 40mm; break-inside: avoid">'
        '<td>row{0}<div class="foot foot--again">foot{0}</div></td></tr>'
    )
    rows = "".join(row.format(number) for number in range(1, 13))
    table = f'<div class="foot">foot0</div><table>{rows}</table>'
    pages = texts(render.pdf(f"<html><body>{table}</body></html>"))
    assert [page.split()[-2:] for page in pages] == [
        ["foot0", "1/3"],
        ["foot6", "2/3"],
        ["foot11", "3/3"],
    ]
    assert pages[1].split()[:5] == ["row6", "row7", "row8", "row9", "row10"]


@pytest.mark.parametrize(
    "address",
    [
        "http://127.0.0.1:9/spy.png",
        "file:///etc/passwd",
        render.FONTS.as_uri() + "/../../secret.png",
        "relative.png",
    ],
)
def test_nothing_is_fetched_from_outside(
    address: str, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.ERROR, logger="weasyprint"):
        made = render.pdf(PAGE.format(f'<img src="{address}" alt="no picture">'))
    assert texts(made) == ["no picture foot 1/1"]
    assert address in caplog.text


def test_the_sheets_bring_their_own_font() -> None:
    made = render.pdf(PAGE.format("<b>bold</b>"))
    fonts = PdfReader(BytesIO(made)).pages[0]["/Resources"]["/Font"]
    names = {font.get_object()["/BaseFont"].split("+")[-1] for font in fonts.values()}
    assert names == {"Sheet", "Sheet-Bold"}


def test_its_own_style_is_understood_whole(caplog: pytest.LogCaptureFixture) -> None:
    stamp = '<span class="stamp stamp--hatched">FAILED</span>'
    with caplog.at_level(logging.WARNING, logger="weasyprint"):
        render.pdf(PAGE.format(stamp))
    assert caplog.text == ""


def test_without_pango_the_refusal_names_what_to_install(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(render, "PANGO_FAULT", "cannot load libpango")
    with pytest.raises(render.PdfOff, match="apt-get install libpango") as refused:
        render.pdf(PAGE)
    assert refused.value.status == 503
    assert "printed from its page" in refused.value.message
