"""A second copy for the apron: two pages of a sheet on one, to be folded to A5."""

from __future__ import annotations

from io import BytesIO

from pypdf import PageObject, PdfReader, PdfWriter, Transformation

from fabshop.paper import render


def pdf(html: str, *, paper: str = "a4") -> bytes:
    """The sheet two pages up on `a4` or `letter` lying down; runs in the worker."""
    return two_up(render.pdf(html, paper=paper))


def two_up(made: bytes) -> bytes:
    """Each pair of pages beside each other, as large as half a page takes them."""
    pages = PdfReader(BytesIO(made)).pages
    writer = PdfWriter()
    for first in range(0, len(pages), 2):
        tall, wide = pages[first].mediabox.height, pages[first].mediabox.width
        share = min(tall / 2 / wide, wide / tall)
        beside = PageObject.create_blank_page(width=tall, height=wide)
        for place, page in enumerate(pages[first : first + 2]):
            left = place * tall / 2 + (tall / 2 - wide * share) / 2
            low = (wide - tall * share) / 2
            at = Transformation().scale(share).translate(left, low)
            beside.merge_transformed_page(page, at)
        writer.add_page(beside)
    written = BytesIO()
    writer.write(written)
    return written.getvalue()
