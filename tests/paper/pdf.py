"""Reads a PDF as paper would be read: pages, their size in mm, their words."""

from __future__ import annotations

from io import BytesIO

from pypdf import PdfReader

MM = 72 / 25.4


def sizes_mm(pdf: bytes) -> list[tuple[int, int]]:
    pages = PdfReader(BytesIO(pdf)).pages
    return [
        (round(page.mediabox.width / MM), round(page.mediabox.height / MM))
        for page in pages
    ]


def texts(pdf: bytes) -> list[str]:
    """The words of each page, with single blanks between them."""
    pages = PdfReader(BytesIO(pdf)).pages
    return [" ".join(page.extract_text().split()) for page in pages]
