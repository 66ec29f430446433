"""No page breaks WCAG 2.2 AA as axe sees it, in light or in dark."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.conftest import Phone
from tests.web.addresses import addresses

pytestmark = pytest.mark.django_db(transaction=True)

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_page_breaks_a_rule(phone: Phone, scheme: str) -> None:
    page = phone(color_scheme=scheme)
    axe = Axe()
    broken = {}
    for path in addresses():
        answer = page.goto(path)
        assert answer is not None
        assert answer.status < 500, path
        told = axe.run(page, options={"runOnly": {"type": "tag", "values": TAGS}})
        if told.violations_count:
            broken[path] = [
                (rule["id"], [node["target"] for node in rule["nodes"]][:3])
                for rule in told.response["violations"]
            ]
    assert broken == {}


def test_a_stranger_finds_no_broken_rule_either(phone: Phone) -> None:
    page = phone(signed_in=False)
    for path in ("/sign-in/", "/sign-in/no-such-link/"):
        page.goto(path)
        told = Axe().run(page, options={"runOnly": {"type": "tag", "values": TAGS}})
        assert told.violations_count == 0, told.generate_report()
