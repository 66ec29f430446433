"""Amounts on the shelf as the pages write them."""

from __future__ import annotations

from fabshop.reckoning.facts import TrayFact
from fabshop.web.templatetags.shelf import amount, amount_below
from tests.reckoning.shelf.shelf_for import resin


def test_amounts_have_their_unit_and_screws_none() -> None:
    assert amount(resin(), 145_000) == "145 g"
    assert amount(resin(), -600) == "−0.6 g"
    assert amount(TrayFact("F1", "M3", 0), 12_000) == "12"
    assert amount(resin(), None) == ""
    assert amount_below(resin(), -2_000) == "2 g"
