"""Makes PDF of a sheet's HTML; runs in the worker, never in the web process."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import font_roboto
import weasyprint
from weasyprint.text.fonts import FontConfiguration

FONTS = Path(font_roboto.__file__).parent / "files"
STYLE = Path(__file__).parent / "static" / "paper" / "sheet.css"

# A machine may have no font at all, so the sheets bring theirs.
FACES = "".join(
    f"@font-face {{ font-family: Sheet; font-weight: {weight};"
    f" src: url({(FONTS / f'Roboto-{name}.ttf').as_uri()}) }}"
    for weight, name in (("400", "Regular"), ("700", "Bold"))
)
# One layout: 186 x 225 mm of text and a foot of 30 mm on either paper.
PAGES = {
    "a4": "@page { size: 210mm 297mm; margin: 21mm 12mm 51mm }",
    "letter": "@page { size: 8.5in 11in; margin: 12.2mm 14.95mm 42.2mm }",
}


def pdf(html: str, *, paper: str = "a4") -> bytes:
    """The sheet as PDF on `a4` or `letter`; nothing is fetched from anywhere."""
    fonts = FontConfiguration()
    styles = [
        weasyprint.CSS(
            string=f"{FACES} {PAGES[paper]}", font_config=fonts, url_fetcher=_only_fonts
        ),
        weasyprint.CSS(filename=str(STYLE), font_config=fonts),
    ]
    document = weasyprint.HTML(string=html, url_fetcher=_only_fonts)
    return bytes(document.write_pdf(stylesheets=styles, font_config=fonts))


def _only_fonts(url: str, *args: Any, **kwargs: Any) -> Any:
    if url.startswith("data:") or url.startswith(FONTS.as_uri()):
        return weasyprint.default_url_fetcher(url, *args, **kwargs)
    raise ValueError(f"a sheet fetches nothing from outside: {url}")
