"""Quantities cross the wire in units and are kept in thousandths."""

from __future__ import annotations

import pytest
from rest_framework.exceptions import ValidationError

from fabshop.api.field import Milli


@pytest.mark.parametrize(("sent", "kept"), [("0.4", 400), ("2", 2000), (1.25, 1250)])
def test_units_become_thousandths(sent: object, kept: int) -> None:
    assert Milli().run_validation(sent) == kept
    assert Milli().to_representation(kept) == float(str(sent))


@pytest.mark.parametrize("sent", ["0.0004", "many", "", "NaN"])
def test_what_is_no_quantity_is_refused(sent: object) -> None:
    with pytest.raises(ValidationError):
        Milli().run_validation(sent)
