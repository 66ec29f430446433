"""How an amount on the shelf is told."""

from __future__ import annotations

import pytest

from fabshop.actions.shelf.locked import amount
from tests.factories import ConsumableFactory, TrayFactory

pytestmark = pytest.mark.django_db


def test_amounts_have_their_unit_and_below_nothing_a_sign() -> None:
    resin, tray = ConsumableFactory(), TrayFactory()
    assert amount(resin, 600) == "0.6 g"
    assert amount(resin, -2_000) == "−2 g"
    assert amount(tray, 12_000) == "12"
