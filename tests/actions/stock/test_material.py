"""Materials come from the reference when first used, or are the shop's own."""

from datetime import datetime
from decimal import Decimal
from typing import Any

import pytest

from fabshop.actions.stock import add_material, material_called
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.shop import Person
from fabshop.records.stock import Material

pytestmark = pytest.mark.django_db


def added(by: Person, now: datetime, **changed: Any) -> Material:
    said: dict[str, Any] = {
        "code": "bamboo",
        "name": "Bamboo rod",
        "family": "wood",
        "density_g_cm3": Decimal("0.70"),
        "source": "weighed here: 70 g, 100 cm³",
    }
    return add_material(by=by, now=now, **(said | changed))


def test_a_reference_material_is_taken_over_with_its_source() -> None:
    steel = material_called("304")
    assert (steel.density_mg_cm3, steel.is_own) == (8000, False)
    assert "ASTM A240" in steel.source
    assert material_called("304") == steel


def test_an_unknown_one_is_refused_by_name() -> None:
    with pytest.raises(BadInput, match="nobody here knows “unobtainium”") as error:
        material_called("unobtainium\x00")
    assert error.value.field == "material"


def test_the_shop_adds_its_own(owner: Person, now: datetime) -> None:
    assert added(owner, now).is_own
    assert material_called("bamboo").density_mg_cm3 == 700
    with pytest.raises(Clash, match="There is a material bamboo already"):
        added(owner, now)
    with pytest.raises(Clash, match="304 is in the reference already"):
        added(owner, now, code="304")


@pytest.mark.parametrize("density", ["0", "-1", "23.1", "NaN", "Infinity"])
def test_a_density_that_cannot_be_is_refused(
    owner: Person, now: datetime, density: str
) -> None:
    with pytest.raises(BadInput, match="cannot be"):
        added(owner, now, density_g_cm3=Decimal(density))


def test_it_says_where_its_density_is_from(
    owner: Person, helper: Person, now: datetime
) -> None:
    with pytest.raises(BadInput, match="Source: nothing is written"):
        added(owner, now, source=" ")
    with pytest.raises(NotAllowed):
        added(helper, now)


def test_the_same_tap_twice_adds_one(owner: Person, now: datetime) -> None:
    first = added(owner, now, client_id="m-1")
    assert added(owner, now, client_id="m-1") == first
