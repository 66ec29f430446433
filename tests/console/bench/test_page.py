"""The pages' figures come out, one row a page."""

from __future__ import annotations

import re

from fabshop.console.bench.page import PAGES, rows
from fabshop.records.shop import Shop


def test_every_page_and_the_sheet_have_their_figures(demo: Shop) -> None:
    told = list(rows(with_years=False))
    assert told[0].startswith("teardown asked")
    assert sum("PDF" in row for row in told) == 2
    for path in PAGES:
        row = next(row for row in told if row.startswith(f"{path} "))
        found = re.search(r"(\d+) queries\s+(\d+) bytes", row)
        assert found is not None
        assert 0 < int(found[1]) < 60
        assert 0 < int(found[2]) < 60_000
