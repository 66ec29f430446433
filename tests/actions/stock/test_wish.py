"""What is wanted cut is measured by its form, and given up without a trace lost."""

from datetime import datetime
from typing import Any

import pytest

from fabshop.actions.stock import add_wish, give_up_wish
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.shop import Person
from fabshop.records.stock import CutWish
from fabshop.snapshot.stock import open_wishes
from tests.factories import CutFactory, CutWishFactory, TaskFactory

pytestmark = pytest.mark.django_db


def wanted(by: Person, now: datetime, **changed: Any) -> CutWish:
    said: dict[str, Any] = {
        "code": "L05",
        "title": "cross bar",
        "material": "304",
        "form": "tube",
        "od_um": 8000,
        "wall_um": 1000,
        "length_um": 212_000,
        "quantity": 2,
    }
    return add_wish(by=by, now=now, **(said | changed))


def test_a_length_is_wanted_until_it_is_cut(helper: Person, now: datetime) -> None:
    wish = wanted(helper, now)
    assert [(one.id, one.count, one.cut) for one in open_wishes()] == [("L05", 2, 0)]
    CutFactory(wish=wish)
    CutFactory(wish=wish, is_taken_back=True)
    assert [(one.count, one.cut) for one in open_wishes()] == [(1, 1)]
    CutFactory(wish=wish)
    assert open_wishes() == ()


def test_a_task_that_has_ended_wants_nothing() -> None:
    CutWishFactory(task=TaskFactory(state="given-up"))
    CutWishFactory(code="L90")
    assert [wish.id for wish in open_wishes()] == ["L90"]


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"quantity": 0}, "How many: 0 cannot be"),
        ({"quantity": 501}, "How many: 501 cannot be"),
        ({"grain": "length"}, "Grain: “length” cannot be"),
        ({"title": " "}, "What for: nothing is written"),
        ({"wall_um": 5000}, "thicker than the radius"),
        ({"form": "sheet", "od_um": None, "wall_um": None}, "Thickness: nothing"),
    ],
)
def test_what_cannot_be_is_refused(
    helper: Person, now: datetime, changed: dict[str, Any], said: str
) -> None:
    with pytest.raises(BadInput) as error:
        wanted(helper, now, **changed)
    assert said in error.value.message


def test_a_code_is_not_used_again_and_a_viewer_wants_nothing(
    helper: Person, viewer: Person, now: datetime
) -> None:
    give_up_wish(by=helper, wish=wanted(helper, now), now=now)
    assert open_wishes() == ()
    with pytest.raises(Clash, match="There is or was a length L05 already"):
        wanted(helper, now)
    with pytest.raises(NotAllowed):
        wanted(viewer, now, code="L06")
