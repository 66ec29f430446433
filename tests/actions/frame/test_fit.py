"""What a bar measured is kept, and builds on the fit that it was printed with."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.frame import keep_print_fit
from fabshop.errors import BadInput, NotAllowed
from fabshop.records.frame import PrintFit
from fabshop.records.shop import Person

pytestmark = pytest.mark.django_db


def test_a_second_measuring_mends_the_first(helper: Person, now: datetime) -> None:
    keep_print_fit(by=helper, across_um=48_500, along_um=49_500, now=now)
    kept = keep_print_fit(by=helper, across_um=50_100, paper_um=120, now=now)
    assert kept.across_ppm == round(1_030_928 * 50 / 50.1)
    assert kept.along_ppm == 1_010_101
    assert kept.paper_um == 120
    assert PrintFit.objects.first() == kept


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ({"across_um": 97_000}, "97 mm is not 42 to 60 mm"),
        ({"along_um": 1_000}, "Bar along the page: 1 mm is not"),
        ({"paper_um": 2_000}, "2 mm is not 0 to 1 mm"),
    ],
)
def test_another_scale_is_no_fit(
    helper: Person, now: datetime, given: dict[str, int], sentence: str
) -> None:
    with pytest.raises(BadInput, match=sentence):
        keep_print_fit(by=helper, now=now, **given)


def test_measuring_twice_too_short_is_told(helper: Person, now: datetime) -> None:
    keep_print_fit(by=helper, across_um=43_000, now=now)
    with pytest.raises(BadInput, match=r"makes 1.35 in all, which is another scale"):
        keep_print_fit(by=helper, across_um=43_000, now=now)


def test_a_viewer_measures_nothing(viewer: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        keep_print_fit(by=viewer, across_um=49_000, now=now)
