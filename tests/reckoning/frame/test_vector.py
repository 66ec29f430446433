"""Vectors against numpy, over random ones."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from fabshop.reckoning.frame import vector as v

number = st.floats(-1000, 1000).map(lambda x: round(x, 3))
vectors = st.tuples(number, number, number)


@given(vectors, vectors)
def test_sums_and_products_agree_with_numpy(a: v.Vector, b: v.Vector) -> None:
    x, y = np.array(a), np.array(b)
    assert v.plus(a, b) == pytest.approx(tuple(x + y))
    assert v.minus(a, b) == pytest.approx(tuple(x - y))
    assert v.times(a, 3) == pytest.approx(tuple(3 * x))
    assert v.dot(a, b) == pytest.approx(x @ y, abs=1e-6)
    assert v.cross(a, b) == pytest.approx(tuple(np.cross(x, y)), abs=1e-6)
    assert v.size(a) == pytest.approx(np.linalg.norm(x))


@given(vectors, vectors)
def test_what_is_across_stands_square(a: v.Vector, b: v.Vector) -> None:
    assume(v.size(b) > 1)
    along = v.unit(b)
    assert v.dot(v.across(a, along), along) == pytest.approx(0, abs=1e-8)


@given(vectors, st.floats(-179, 179))
def test_a_turn_is_found_again(a: v.Vector, angle: float) -> None:
    assume(v.size(a[:2] + (0.0,)) > 1)
    flat = (a[0], a[1], 0.0)
    turned = v.turned(flat, (0.0, 0.0, 1.0), angle)
    assert v.turn_deg(flat, turned, (0.0, 0.0, 1.0)) == pytest.approx(angle, abs=1e-8)
    assert v.between_deg(flat, turned) == pytest.approx(abs(angle), abs=1e-8)


def test_a_turn_is_right_handed() -> None:
    assert v.turned((1, 0, 0), (0, 0, 1), 90) == pytest.approx((0, 1, 0))
    assert v.turn_deg((1, 0, 0), (0, 1, 0), (0, 0, -1)) == pytest.approx(-90)


def test_the_arc_cosine_of_a_rounding_error_is_nought() -> None:
    assert v.acos_deg(1 + 1e-15) == 0.0


def test_nothing_has_no_direction() -> None:
    with pytest.raises(ValueError, match="no direction"):
        v.unit((0.0, 0.0, 0.0))
