"""The first page with its style and scripts is light for a phone in a bad place."""

from __future__ import annotations

import gzip

import pytest

from tests.browser.conftest import Phone

pytestmark = pytest.mark.django_db(transaction=True)

MOST_BYTES = 60_000


def test_the_first_page_is_under_60_kb_compressed(phone: Phone) -> None:
    page = phone()
    answer = page.goto("/", wait_until="networkidle")
    assert answer is not None
    came = page.evaluate("performance.getEntriesByType('resource').map(e => e.name)")
    sizes = {
        address: len(gzip.compress(page.request.get(address).body()))
        for address in (page.url, *came)
    }
    assert any(address.endswith(".css") for address in sizes)
    assert any(address.endswith(".js") for address in sizes)
    assert sum(sizes.values()) < MOST_BYTES, sizes
