"""One walk past a place counts what lies on the shelf there as well."""

from __future__ import annotations

import pytest
from django.test import Client

from fabshop.actions.shelf.locked import left_of
from tests.factories import (
    ConsumableFactory,
    PieceFactory,
    ShelfMoveFactory,
    TrayFactory,
)

pytestmark = pytest.mark.django_db


def test_a_place_is_counted_whatever_lies_there(page: Client) -> None:
    tray = TrayFactory(code="F04", place="rack 2")
    ShelfMoveFactory(consumable=None, tray=tray, change_milli=12_000)
    PieceFactory(code="M08", place="rack 2")
    resin = ConsumableFactory(code="C01", place="cold shelf")
    text = page.get("/rack/count/?place=rack 2").text
    assert "F04" in text
    assert "M08" in text
    assert "C01" not in text
    assert "cold shelf" in text
    said = {"seen-F04": "9", "seen-M08": "1000"}
    refused = page.post("/rack/count/?place=rack 2", said)
    assert refused.status_code == 422
    assert "the record says 12, you saw 9" in refused.text
    told = page.post(
        "/rack/count/?place=rack 2", {**said, "reason": "lost"}, follow=True
    )
    assert "2 counted, 1 differed from the record." in told.text
    assert (left_of(tray), left_of(resin)) == (9_000, 0)


def test_what_has_no_place_is_counted_without_one(page: Client) -> None:
    resin = ConsumableFactory(code="C01", place="")
    page.post("/rack/count/", {"seen-C01": "4,5", "reason": "weighed"})
    assert left_of(resin) == 4_500


def test_half_a_screw_is_refused_and_nothing_is_counted(page: Client) -> None:
    """Row 25: all or nothing."""
    tray, resin = TrayFactory(code="F04"), ConsumableFactory(code="C01")
    resin.place = tray.place
    resin.save()
    answer = page.post(
        f"/rack/count/?place={tray.place}",
        {"seen-C01": "5", "seen-F04": "1.5", "reason": "x"},
    )
    assert answer.status_code == 422
    assert "whole pieces" in answer.text
    assert left_of(resin) == 0
