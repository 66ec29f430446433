"""Makes PDF of a sheet's HTML; runs in the worker, never in the web process."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Any

import font_roboto

from fabshop.errors import ShopError

try:
    import weasyprint
    from weasyprint import document as weasyprint_document
    from weasyprint.text.fonts import FontConfiguration
    from weasyprint.urls import URLFetcher
except OSError as fault:  # Pango is no Python package, so pip cannot bring it.
    PANGO_FAULT = str(fault)
    URLFetcher = object
else:
    PANGO_FAULT = ""
    # A foot that changes down the pages makes WeasyPrint lay out every page twice, to
    # the same end: only text that hangs on page numbers needs another round, and in a
    # sheet nothing but its margins does, which are drawn after the last. It has no
    # option for that; the version is pinned, and test_render looks at the pages.
    weasyprint_document.layout_document = partial(
        weasyprint_document.layout_document, max_loops=1
    )

FONTS = Path(font_roboto.__file__).parent / "files"
STYLE = Path(__file__).parent / "static" / "paper" / "sheet.css"

# A machine may have no font at all, so the sheets bring theirs.
FACES = "".join(
    f"@font-face {{ font-family: Sheet; font-weight: {weight};"
    f" src: url({(FONTS / f'Roboto-{name}.ttf').as_uri()}) }}"
    for weight, name in (("400", "Regular"), ("700", "Bold"))
)
# One layout on either paper, 186 x 255 mm: 222 mm of it text, 33 mm the foot.
PAGES = {
    "a4": "@page { size: 210mm 297mm; margin: 21mm 12mm 54mm }",
    "letter": "@page { size: 8.5in 11in; margin: 12.2mm 14.95mm 45.2mm }",
    # A card for the case or the apron.
    "a6": (
        "@page { size: 105mm 148mm; margin: 7mm 7mm 36mm;"
        " @bottom-left { width: 72mm } @bottom-right { width: 19mm } }"
        " .foot { width: 72mm; overflow: hidden } h2 { margin-top: 4mm }"
    ),
}
# A foot given again, further down, is that of the page from there on.
AGAIN = ".foot--again { display: block }"


class PdfOff(ShopError):
    """This machine cannot make PDF; everything else works."""

    code = "pdf-off"
    status = 503


def pdf(html: str, *, paper: str = "a4") -> bytes:
    """The sheet as PDF on `a4` or `letter`; nothing is fetched from anywhere."""
    if PANGO_FAULT:
        raise PdfOff(
            "PDF is off on this machine: the library Pango is missing. "
            "On Debian: apt-get install libpango-1.0-0 libpangoft2-1.0-0. "
            "The sheet can still be printed from its page."
        )
    fonts = FontConfiguration()
    ours = _OnlyOurs()
    styles = [
        weasyprint.CSS(
            string=f"{FACES} {PAGES[paper]} {AGAIN}",
            font_config=fonts,
            url_fetcher=ours,
        ),
        weasyprint.CSS(filename=str(STYLE), font_config=fonts, url_fetcher=ours),
    ]
    document = weasyprint.HTML(string=html, url_fetcher=ours)
    return bytes(document.write_pdf(stylesheets=styles[::-1], font_config=fonts))


class _OnlyOurs(URLFetcher):  # type: ignore[misc]
    """Reads our fonts and what the sheet carries in itself; refuses the rest."""

    def fetch(self, url: str, *args: Any, **kwargs: Any) -> Any:
        ours = (f"{FONTS.as_uri()}/", STYLE.as_uri(), "data:")
        if not url.startswith(ours):
            raise ValueError(f"a sheet fetches nothing from outside: {url[:80]}")
        return super().fetch(url, *args, **kwargs)
