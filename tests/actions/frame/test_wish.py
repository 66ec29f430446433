"""The tubes of a frame go onto the cut list once, with marks, ends and joints."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.frame import wish_frame
from fabshop.errors import BadInput, Clash
from fabshop.records.frame import Frame
from fabshop.records.shop import Person
from fabshop.records.stock import CutWish
from tests.factories import MaterialFactory
from tests.paper.a_frame import a_frame

pytestmark = pytest.mark.django_db


@pytest.fixture
def frame() -> Frame:
    made = Frame.objects.get(code=a_frame())
    material = MaterialFactory(code="ti-9")
    made.tubes.update(material=material.code)
    return made


def test_every_tube_is_wanted_once(frame: Frame, owner: Person, now: datetime) -> None:
    wishes = wish_frame(by=owner, frame=frame, now=now)
    assert {wish.code for wish in wishes} == {
        "cradle-rail",
        "cradle-post",
        "cradle-brace",
    }
    brace = CutWish.objects.get(code="cradle-brace")
    assert brace.title.endswith("brace: 31.0° dial 59.0°, 59.0° dial 31.0°")
    assert (brace.joints, brace.is_frame, brace.quantity) == ("J02", True, 1)
    assert (brace.od_um, brace.wall_um) == (8_000, 900)
    with pytest.raises(Clash, match="is on the cut list already"):
        wish_frame(by=owner, frame=frame, now=now)


def test_what_is_not_computed_is_left_out(
    frame: Frame, owner: Person, now: datetime
) -> None:
    frame.tubes.filter(mark="post").update(od_um=10_000)
    wishes = wish_frame(by=owner, frame=frame, now=now)
    assert {wish.code for wish in wishes} == {"cradle-rail", "cradle-brace"}


def test_a_tube_without_material_is_refused_by_its_mark(
    frame: Frame, owner: Person, now: datetime
) -> None:
    frame.tubes.filter(mark="post").update(material="")
    with pytest.raises(BadInput, match="post: no material is said"):
        wish_frame(by=owner, frame=frame, now=now)
    assert not CutWish.objects.exists()
