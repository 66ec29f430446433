"""A spare has a name, and fits a place once."""

from __future__ import annotations

import pytest

from fabshop.records.packout import Spare, SpareFit
from tests.factories import ComponentFactory
from tests.records.refused import refused

pytestmark = pytest.mark.django_db


def test_a_spare_without_a_title_is_refused() -> None:
    with refused("spare_has_a_title"):
        Spare.objects.create(code="SP1", title="")


def test_a_spare_fits_a_place_once() -> None:
    spare = Spare.objects.create(code="SP1", title="Old drive pod")
    part = ComponentFactory()
    SpareFit.objects.create(spare=spare, component=part)
    with refused():
        SpareFit.objects.create(spare=spare, component=part)
