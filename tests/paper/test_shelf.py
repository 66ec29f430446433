"""Bag labels: one a part that comes off with screws, 62 x 30 mm, QR to its step."""

from __future__ import annotations

import pytest

from fabshop.paper.shelf import Label, bag_labels
from fabshop.records.plan import Plan
from tests.paper.pdf import sizes_mm
from tests.paper.test_plan import BASE, said


@pytest.fixture
def labels(demo_plan: Plan) -> dict[str, Label]:
    pages = bag_labels(demo_plan.pk).context["pages"]
    return {label.code: label for page in pages for label in page}


def test_every_part_that_comes_off_with_screws_has_one(
    labels: dict[str, Label],
) -> None:
    assert len(labels) == 20
    assert "T22" not in labels


def test_it_says_the_screws_and_the_locker_as_a_letter(
    labels: dict[str, Label],
) -> None:
    gearbox, arm = labels["T23"], labels["T26"]
    assert [(one.told, one.letter) for one in gearbox.screws] == [("4×M4×12 SH", "M")]
    assert [(one.told, one.letter) for one in arm.screws] == [("2×M4×12 SH", "new nut")]
    assert arm.side == "left"
    assert labels["T10"].screws[0].letter == "dry"


def test_its_code_opens_the_step_and_its_bag_is_the_step_where_none_is_noted(
    labels: dict[str, Label], demo_plan: Plan
) -> None:
    label = labels["T18"]
    assert label.path == f"/plans/{demo_plan.pk}/steps/{label.step}/"
    assert label.bag == str(label.step)
    demo_plan.build.components.get(code="T18").fastenings.update(bag="B7")
    page = bag_labels(demo_plan.pk).context["pages"][0]
    assert next(one.bag for one in page if one.code == "T18") == "B7"


@pytest.mark.parametrize(
    ("paper", "size"), [("a4", (210, 297)), ("letter", (216, 279))]
)
def test_three_by_eight_fit_on_one_page_of_either_paper(
    demo_plan: Plan, paper: str, size: tuple[int, int]
) -> None:
    sheet = bag_labels(demo_plan.pk)
    assert "counted" not in said(sheet.html(base_url=BASE))
    assert sizes_mm(sheet.pdf(base_url=BASE, paper=paper)) == [size]
