"""Densities against the elements, handbooks and the units they were given in."""

import periodictable
import pytest

from fabshop.reference.material import materials

# 1 lb = 453.59237 g and 1 in = 2.54 cm, exact by the 1959 agreement.
LB_IN3 = 453.59237 / 2.54**3


def test_a_pound_to_the_cubic_inch_is_known() -> None:
    assert pytest.approx(27.6799, abs=1e-4) == LB_IN3


@pytest.mark.parametrize(
    ("code", "lb_in3"),
    [
        # MIL-HDBK-5J table 5.4.1.0(c1) for the 6Al-4V, suppliers for the others
        ("ti-2", 0.163),
        ("ti-5", 0.160),
        ("ti-9", 0.162),
        ("304", 0.289),
        ("4130", 0.283),
        ("mild", 0.284),
        ("6061", 0.0975),
        ("7075", 0.101),
        ("brass", 0.307),
    ],
)
def test_a_density_is_that_of_the_handbooks_in_pounds(code: str, lb_in3: float) -> None:
    row = materials()[code]
    assert row.density_mg_cm3 / 1000 == pytest.approx(
        lb_in3 * LB_IN3, rel=row.within_percent / 100
    )


@pytest.mark.parametrize(
    ("code", "element"),
    [("ti-1", "Ti"), ("ti-2", "Ti"), ("copper", "Cu"), ("1050", "Al")],
)
def test_what_is_nearly_an_element_weighs_what_it_does(code: str, element: str) -> None:
    # periodictable carries the densities of the CRC Handbook
    known = getattr(periodictable, element).density
    assert materials()[code].density_mg_cm3 / 1000 == pytest.approx(known, rel=0.01)


@pytest.mark.parametrize(
    ("code", "low", "high"),
    [
        # ranges of makers' data sheets
        ("polycarbonate", 1.20, 1.22),
        ("acrylic", 1.17, 1.19),
        ("PETG", 1.26, 1.28),
        ("ABS", 1.02, 1.08),
        ("carbon laminate", 1.55, 1.60),
    ],
)
def test_a_plastic_is_within_what_makers_say(
    code: str, low: float, high: float
) -> None:
    assert low <= materials()[code].density_mg_cm3 / 1000 <= high


def test_the_usual_materials_of_a_shop_are_there() -> None:
    families = {row.family for row in materials().values()}
    assert families >= {
        *("titanium", "stainless", "chromoly", "mild steel", "aluminium"),
        *("brass", "plastic", "laminate", "filament", "wood"),
    }
    assert all(500 < row.density_mg_cm3 < 9_000 for row in materials().values())
    assert {row.basis for row in materials().values()} == {
        *("published", "from memory", "rule of mixtures"),
    }
