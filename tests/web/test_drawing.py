"""The page of a drawing: put there by phone, warned about, fetched safely."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from fabshop import words
from fabshop.actions.drawing import put as put_module
from fabshop.records.drawing import Drawing
from fabshop.records.order import Order
from fabshop.records.shop import Person
from tests.actions.drawing.conftest import part
from tests.factories import DrawingFactory, OrderFactory, OrderLineFactory

pytestmark = pytest.mark.django_db
HERE = "/orders/P70/lines/1/drawing/"


@pytest.fixture
def media(settings: Any, tmp_path: Path) -> Path:
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


@pytest.fixture
def order(shop: object, media: Path) -> Order:
    made: Order = OrderFactory(
        code="P70", kind=words.OrderKind.CUT, move=words.Move.ME, sent_on=None
    )
    OrderLineFactory(order=made, number=1, title="Duct", hand="L")
    OrderLineFactory(order=made, number=2, title="Duct", hand="R")
    return made


def upload(content: bytes, name: str = "duct.dxf", **more: str) -> dict[str, Any]:
    return {"file": SimpleUploadedFile(name, content), **more}


def test_a_drawing_put_there_shows_picture_facts_and_nothing_doubtful(
    page: Client, order: Order
) -> None:
    assert "No drawing is on this line yet." in page.get(HERE).text
    assert page.post(HERE, upload(part())).status_code == 302
    shown = page.get(HERE).text
    assert "duct.dxf, revision A" in shown
    assert "<svg viewBox=" in shown
    assert "60.00 × 40.00 mm" in shown
    assert "Nothing doubtful was found in it." in shown
    assert "unknown: say what it is cut of" in shown


def test_thickness_and_material_give_the_mass_and_come_back_as_typed(
    page: Client, order: Order
) -> None:
    page.post(HERE, upload(part()))
    page.post(HERE, {"do": "describe", "thickness": "0,8", "material": "5754"})
    shown = page.get(HERE).text
    # 1800 mm² by 0.8 mm by 2.67 g/cm³
    assert "3.8" in shown
    assert "Aluminium 5754, 0.8 mm" in shown
    again = page.post(HERE, {"do": "describe", "thickness": "thin"})
    assert again.status_code == 422
    assert "thin" in again.text


def test_an_open_outline_is_told_on_the_page_and_asked_before_it_is_sent(
    page: Client, order: Order
) -> None:
    page.post(HERE, upload(part(open_by=0.5)))
    assert "gap by 0.5 mm" in page.get(HERE).text
    asked = page.post("/orders/P70/sent/", {"revision": "A"})
    assert asked.status_code == 409
    assert "gap by 0.5 mm" in asked.text
    assert "It is right: sent" in asked.text
    sent = page.post("/orders/P70/sent/", {"revision": "A", "confirm": "yes"})
    assert sent.status_code == 302
    assert "That is the one they hold." in page.get(HERE).text


def test_row_27_two_identical_hands_are_asked_about_before_sending(
    page: Client, order: Order
) -> None:
    page.post(HERE, upload(part()))
    page.post("/orders/P70/lines/2/drawing/", upload(part()))
    asked = page.post("/orders/P70/sent/", {"revision": "A"})
    assert asked.status_code == 409
    assert "The drawings of left and right are the same" in asked.text


def test_row_30_a_newer_revision_is_flagged_on_list_order_and_goods_in(
    page: Client, order: Order
) -> None:
    page.post(HERE, upload(part(), revision="B"))
    page.post("/orders/P70/sent/", {"revision": "B"})
    page.post(HERE, upload(part(scale=1.1), revision="C"))
    assert "They hold revision B, yours is C." in page.get(HERE).text
    assert "They hold revision B, yours is C." in page.get("/orders/P70/").text
    assert "They hold B, yours is C." in page.get("/orders/").text
    assert "They hold B, yours is C." in page.get("/goods-in/").text
    assert "They hold revision B, yours is C." in page.get("/orders/P70/goods-in/").text


def test_row_55_too_large_is_413_no_file_422_and_torn_422_all_at_the_form(
    page: Client, order: Order, monkeypatch: pytest.MonkeyPatch
) -> None:
    answer = page.post(HERE, {"revision": "A"})
    assert (answer.status_code, "choose one first" in answer.text) == (422, True)
    torn = page.post(HERE, upload(b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nx\n"))
    assert (torn.status_code, "torn" in torn.text) == (422, True)
    bomb = page.post(HERE, upload(b"0\nSECTION\n" + b"0\nPOINT\n" * 400_000))
    assert (bomb.status_code, "entities" in bomb.text) == (413, True)
    big = page.post(HERE, upload(b"x" * (put_module.MOST_BYTES + 1)))
    assert (big.status_code, "at most 20 MB" in big.text) == (413, True)
    assert not Drawing.objects.exists()


def test_row_56_a_name_with_a_path_or_a_script_is_renamed(
    page: Client, order: Order
) -> None:
    page.post(HERE, upload(b"words", name="../<script>x</script>.dxf"))
    drawing = Drawing.objects.get()
    assert "/" not in drawing.file_name and "<" not in drawing.file_name
    shown = page.get(HERE).text
    assert "It is no DXF, so nothing of it is read." in shown


def test_a_file_is_fetched_as_a_download_by_people_of_the_shop_only(
    page: Client, client: Client, order: Order
) -> None:
    content = part()
    page.post(HERE, upload(content))
    where = f"/drawings/{Drawing.objects.get().pk}/file/"
    answer = page.get(where)
    assert b"".join(answer) == content  # type: ignore[arg-type]
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Disposition"].startswith('attachment; filename="duct.dxf"')
    assert "sandbox" in answer["Content-Security-Policy"]
    page.logout()
    assert page.get(where).status_code == 302


def test_a_file_that_is_gone_is_404_and_nothing_outside_the_folder_is_served(
    page: Client, order: Order
) -> None:
    for file in ("drawings/00/gone.dxf", "../../../etc/passwd"):
        gone = DrawingFactory(file=file)
        assert page.get(f"/drawings/{gone.pk}/file/").status_code == 404


def test_a_helper_looks_but_puts_nothing_there(
    helpers_page: Client, order: Order
) -> None:
    assert helpers_page.get(HERE).status_code == 200
    answer = helpers_page.post(HERE, upload(part()))
    assert answer.status_code == 403
    assert "Only the owner puts drawings on an order." in answer.text


@pytest.fixture
def demo_page(client: Client, odile: Person, frozen: Any) -> Client:
    client.force_login(odile)
    return client


def test_what_may_land_after_pack_out_is_offered_to_go_to_the_event(
    demo_page: Client,
) -> None:
    shown = demo_page.get("/orders/P25/").text
    assert "It may land after pack-out" in shown
    assert "It does not count as a spare for the event." in shown
    assert demo_page.post("/orders/P25/event/").status_code == 302
    assert "It goes to the event" in demo_page.get("/orders/P25/").text


def test_p02_shows_its_two_lefts_and_a_loan_its_day(demo_page: Client) -> None:
    shown = demo_page.get("/orders/P02/lines/2/drawing/").text
    assert "The drawings of left and right are the same" in shown
    assert "Give back by" in demo_page.get("/orders/P21/").text
