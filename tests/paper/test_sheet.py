"""What every sheet has: its foot, its code and a QR that can be scanned."""

from __future__ import annotations

from datetime import UTC, datetime
from urllib.parse import unquote

import segno

from fabshop.paper.sheet import Sheet, qr, said

AT = datetime(2027, 9, 3, 5, 45, tzinfo=UTC)


def sheet(**fields: object) -> Sheet:
    told: dict[str, object] = {
        "name": "slip",
        "title": "Slip",
        "template": "paper/base.html",
        "path": "/orders/P04/",
        "code": "GOODS IN P04",
        "filename": "slip-P04",
        "subject": "P04",
        "made_at": AT,
        "offset_minutes": 60,
    }
    return Sheet(**{**told, **fields})  # type: ignore[arg-type]


def test_a_moment_is_said_with_its_weekday_on_the_sheets_clock() -> None:
    assert said(AT, 60) == "Fri 3 Sep 06:45"
    assert said(AT, -300) == "Fri 3 Sep 00:45"


def test_the_foot_says_edition_facts_and_what_it_was_made_from() -> None:
    html = sheet(edition="B", digest="9698cfd4aa", entries=214).html(
        base_url="http://shop.test/"
    )
    assert "<b>edition B</b>" in html
    assert "made Fri 3 Sep 06:45 from 214 entries · facts 9698cfd4<" in html
    assert "GOODS IN P04" in html
    assert "http://shop.test/orders/P04/<" in html


def test_a_name_cannot_smuggle_in_markup() -> None:
    html = sheet(subject="<script>alert(1)</script>").html(base_url="http://s")
    assert "<script>" not in html


def test_the_pdf_carries_its_style_and_the_page_links_it() -> None:
    assert "sheet.css" in sheet().html(base_url="http://s")
    assert "sheet.css" not in sheet().html(base_url="http://s", for_pdf=True)


def test_the_qr_is_level_m_with_its_quiet_zone() -> None:
    address = "http://192.168.1.20:8000/plans/1/steps/14/"
    drawn = unquote(qr(address))
    code = segno.make(address, error="m", boost_error=False, micro=False)
    modules = code.symbol_size(border=0)[0]
    assert f"width='{modules + 8}'" in drawn
    assert segno.make(address, error="m", micro=False).error in ("M", "Q", "H")
