"""The taps at the shelf: what moves, what is refused with its page, what is undone."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client

from fabshop.actions.shelf.locked import left_of
from fabshop.records.plan import Plan
from fabshop.records.shelf import Consumable, ShelfWaiver, Tray
from fabshop.records.shop import Person, Shop
from tests.factories import ConsumableFactory, ShelfMoveFactory, TrayFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def demo_page(client: Client, odile: Person, frozen: Any) -> Client:
    client.force_login(odile)
    return client


@pytest.fixture
def resin(shop: Shop) -> Consumable:
    thing = ConsumableFactory(code="C01")
    ShelfMoveFactory(consumable=thing, change_milli=410_000)
    return thing


def move(page: Client, code: str = "C01", **said: str) -> str:
    return page.post(f"/shelf/{code}/move/", said, follow=True).text


def test_used_it_says_how_much_and_where_to_undo_it(
    page: Client, resin: Consumable
) -> None:
    text = move(page, do="used", quantity="95")
    assert "C01: 95 g used." in text
    assert "Look, or undo it" in text
    assert left_of(resin) == 315_000


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"do": "used", "quantity": ""}, "Quantity: nothing is written."),
        ({"do": "used", "quantity": "much"}, "much"),
        ({"do": "used", "quantity": "-4"}, "Write more than 0."),
        ({"do": "used", "quantity": "4", "task": "W99"}, "there is none called “W99”"),
        ({"do": "eaten", "quantity": "4"}, "Tap one of the keys"),
        ({"do": "counted", "seen": ""}, "Seen: nothing is written."),
        ({"do": "counted", "seen": "400"}, "What happened? Write a reason."),
        ({"do": "thrown", "quantity": "4"}, "Why: nothing is written"),
    ],
)
def test_what_is_wrong_comes_back_on_the_same_page(
    page: Client, resin: Consumable, said: dict[str, str], sentence: str
) -> None:
    answer = page.post("/shelf/C01/move/", said)
    assert answer.status_code == 422
    assert sentence in answer.text
    assert left_of(resin) == 410_000


def test_counted_the_difference_has_its_reason(page: Client, resin: Consumable) -> None:
    move(page, do="counted", seen="400", reason="spilt")
    text = page.get("/shelf/C01/").text
    assert "seen 400 g, the record said 410 g; spilt" in text


def test_it_comes_goes_back_and_is_thrown_away(page: Client, resin: Consumable) -> None:
    move(page, do="came", quantity="10")
    move(page, do="back", quantity="5")
    move(page, do="thrown", quantity="25", note="lumps")
    assert left_of(resin) == 400_000


def test_screws_are_taken_below_nothing_and_looked_for(page: Client) -> None:
    """Row 46."""
    tray = TrayFactory(code="F04")
    assert "Count wrong by 2: look" in move(page, "F04", do="used", quantity="2")
    assert left_of(tray) == -2_000


def test_opened_once_and_on_no_day_to_come(page: Client, resin: Consumable) -> None:
    later = page.post("/shelf/C01/opened/", {"opened_on": "2027-09-09"})
    assert later.status_code == 422
    assert "has not come yet" in later.text
    assert "C01 is opened." in page.post("/shelf/C01/opened/", follow=True).text
    assert page.post("/shelf/C01/opened/").status_code == 409


def test_gone_for_good_with_a_reason(
    page: Client, helpers_page: Client, resin: Consumable
) -> None:
    assert helpers_page.post("/shelf/C01/gone/", {"why": "x"}).status_code == 403
    assert page.post("/shelf/C01/gone/", {"why": ""}).status_code == 422
    page.post("/shelf/C01/gone/", {"why": "set hard"})
    assert "gone from the shelf" in page.get("/shelf/C01/").text
    TrayFactory(code="F09")
    page.post("/shelf/F09/gone/", {"why": "mixed up"})
    assert not Tray.objects.on_the_shelf().exists()


def test_held_the_owner_overrules_it_with_a_reason_on_the_spot(
    demo_page: Client,
) -> None:
    """Row 44: hold at use, override with a reason."""
    held = demo_page.post("/tasks/W17/start/")
    assert held.status_code == 409
    assert "Held: W17 uses C05 Potting resin, gone off Tue 31 Aug" in held.text
    assert "/tasks/W17/gone-off/" in held.text
    empty = demo_page.post("/tasks/W17/gone-off/", {"thing": "C05", "reason": ""})
    assert empty.status_code == 422
    said = {"thing": "C05", "reason": "test piece set hard"}
    demo_page.post("/tasks/W17/gone-off/", said)
    assert ShelfWaiver.objects.get().task.code == "W17"
    assert demo_page.post("/tasks/W17/start/").status_code == 302
    assert "Let through: test piece set hard" in demo_page.get("/tasks/W17/").text


def test_held_it_is_not_done_either(demo_page: Client) -> None:
    assert "W17 is held" in demo_page.post("/tasks/W17/done/").text


def test_a_helper_may_not_overrule_and_a_viewer_not_use(
    helpers_page: Client, viewers_page: Client, resin: Consumable
) -> None:
    """Row 65."""
    assert helpers_page.post("/tasks/W17/gone-off/", {}).status_code == 403
    answer = viewers_page.post("/shelf/C01/move/", {"do": "used", "quantity": "1"})
    assert answer.status_code == 403


def test_from_the_task_it_goes_back_to_the_task(demo_page: Client) -> None:
    said = {"do": "used", "quantity": "95", "task": "W08", "then": "/tasks/W08/"}
    answer = demo_page.post("/shelf/C01/move/", said)
    assert answer.url == "/tasks/W08/"  # type: ignore[attr-defined]
    strange = {**said, "then": "https://elsewhere.example/"}
    assert demo_page.post("/shelf/C01/move/", strange).url == "/shelf/C01/"  # type: ignore[attr-defined]


def test_a_screw_missing_from_a_bag_is_two_taps(
    demo_page: Client, demo_plan: Plan
) -> None:
    step = demo_plan.steps.filter(component__code="T26").first()
    at = f"/plans/{demo_plan.pk}/steps/{step.number}/"
    assert "/components/T26/bag-short/" in demo_page.get(at).text
    text = demo_page.get("/components/T26/bag-short/").text
    assert text.index("M4×12 SH") < text.index("M3×8 BH")
    nothing = demo_page.post("/components/T26/bag-short/", {"tray": "F99"})
    assert nothing.status_code == 422
    said = {"tray": "F02", "then": at}
    answer = demo_page.post("/components/T26/bag-short/", said)
    assert answer.url == at  # type: ignore[attr-defined]
    assert left_of(Tray.objects.get(code="F02")) == 40_000


def test_the_new_nuts_of_a_teardown_are_taken_at_once(demo_page: Client) -> None:
    assert "Take 6" in demo_page.get("/hardware/").text
    said = {"do": "used", "quantity": "6", "then": "/hardware/"}
    demo_page.post("/shelf/F04/move/", said)
    assert left_of(Tray.objects.get(code="F04")) == 6_000
