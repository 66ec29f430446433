"""Goods in: counted line by line and hand by hand, and said at once what it frees."""

from datetime import date, timedelta
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from freezegun import freeze_time
from PIL import Image

from fabshop import words
from fabshop.records.order import Order, Receipt
from fabshop.records.task import Task as TaskRecord
from tests.factories import (
    MOMENT,
    BuildFactory,
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    PromiseFactory,
    ReceiptFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _at_the_moment():
    with freeze_time(MOMENT):
        yield


@pytest.fixture
def ducts(shop):
    """A left and a right duct for W13."""
    build = BuildFactory()
    order = OrderFactory(code="P02", title="Air ducts", build=build)
    left = OrderLineFactory(order=order, number=1, title="Duct", hand=words.Hand.LEFT)
    right = OrderLineFactory(order=order, number=2, title="Duct", hand=words.Hand.RIGHT)
    task = TaskFactory(code="W13", title="Fold ducts", build=build)
    NeedFactory(task=task, line=left)
    NeedFactory(task=task, line=right)
    return order


@pytest.fixture
def bolsters(shop):
    order = OrderFactory(code="P04", title="Bolsters", build=BuildFactory())
    OrderLineFactory(order=order, title="Bolster", quantity_milli=14_000)
    return order


def book(client, order, **fields):
    names = {name.replace("_", "-"): value for name, value in fields.items()}
    return client.post(f"/orders/{order.code}/goods-in/", names, follow=True)


def test_today_and_overdue_stand_above_what_comes_later(
    client, helper, ducts, bolsters
):
    PromiseFactory(order=ducts, eta_on=date(2027, 9, 9))
    PromiseFactory(order=bolsters, eta_on=MOMENT.date() - timedelta(days=2))
    client.force_login(helper)
    text = client.get("/goods-in/").text
    assert "1 parcel expected today or overdue." in text
    assert text.index("Bolsters") < text.index("<h2>Later") < text.index("Air ducts")


def test_counters_begin_at_nought_with_what_is_expected_beside(
    client, helper, bolsters
):
    client.force_login(helper)
    text = client.get("/orders/P04/goods-in/").text
    assert 'name="good-1" value="0"' in text
    assert "expected 14" in text


@pytest.mark.parametrize(
    ("press", "seen"), [("+1", "3"), ("+10", "12"), ("all", "14"), ("-1", "1")]
)
def test_the_keys_count_where_no_script_runs(client, helper, bolsters, press, seen):
    client.force_login(helper)
    answer = client.post(
        "/orders/P04/goods-in/", {"good-1": "2", "key": f"good:1:{press}"}
    )
    assert answer.status_code == 200
    assert f'name="good-1" value="{seen}"' in answer.text
    assert not Receipt.objects.exists()


def test_a_whole_parcel_frees_its_task_at_once(client, helper, ducts):
    client.force_login(helper)
    answer = book(client, ducts, good_1="1", good_2="1")
    assert answer.redirect_chain == [("/orders/P02/counted/", 302)]
    assert "Parts complete for W13 Fold ducts" in answer.text
    assert "All of it is here." in answer.text


def test_a_short_parcel_asks_what_becomes_of_the_rest(client, helper, bolsters):
    client.force_login(helper)
    answer = book(client, bolsters, good_1="12")
    assert "2 short" in answer.text
    for key in ("Rest coming", "Refunded", "Make it here"):
        assert key in answer.text
    answer = client.post(
        "/orders/P04/lines/1/settle/", {"how": "coming", "quantity": "2"}, follow=True
    )
    assert "P04/1: rest coming." in answer.text


def test_row_27_two_lefts_for_left_and_right(client, owner, ducts):
    """Row 27: one is accepted, one goes to the shelf, and it is ordered again."""
    client.force_login(owner)
    answer = book(client, ducts, good_1="1", wrong_2="1", why_2="hand", good_2="0")
    assert "W13 Fold ducts still wants P02" in answer.text
    shelf = client.get("/penalty-shelf/").text
    assert "wrong hand" in shelf and "P02/2" in shelf
    again = client.post(
        "/orders/P02/lines/2/settle/",
        {"how": "reordered", "quantity": "1"},
        follow=True,
    )
    draft = Order.objects.exclude(code="P02").get()
    assert draft.move == words.Move.ME and draft.sent_on is None
    assert f"{draft.code} orders it again. It is with you: send it." in again.text


def test_row_24_more_than_ordered_is_accepted_and_asked_about(client, helper, bolsters):
    """Row 24: received more than ordered."""
    client.force_login(helper)
    answer = book(client, bolsters, good_1="16")
    assert "2 more than ordered. Keep or give back?" in answer.text
    receipt = Receipt.objects.get()
    answer = client.post(
        f"/receipts/{receipt.pk}/take-back/", {"quantity": "2"}, follow=True
    )
    assert "2 taken back of Bolster." in answer.text


def test_row_25_an_empty_box_is_a_parcel_too(client, helper, bolsters):
    """Row 25: received 0."""
    client.force_login(helper)
    answer = book(client, bolsters, empty="1", good_1="0")
    assert "Nothing was in it." in answer.text
    assert Receipt.objects.get().counted_milli == 0


def test_counters_left_at_nothing_ask_whether_the_box_is_empty(
    client, helper, bolsters
):
    client.force_login(helper)
    answer = book(client, bolsters, good_1="0")
    assert answer.status_code == 422
    assert "Every counter still stands at 0." in answer.text
    assert answer.text.count("The box is empty") == 1
    assert not Receipt.objects.exists()


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("-3", "less than nothing"),
        ("1.5", "not a whole number of pieces"),
        ("two", "“two” is not a number"),
    ],
)
def test_row_25_a_count_that_cannot_be_is_refused_and_kept(
    client, helper, bolsters, typed, said
):
    """Row 25: negative, or a fraction of a piece."""
    client.force_login(helper)
    answer = book(client, bolsters, good_1=typed, note_1="torn box")
    assert answer.status_code == 422
    assert said in answer.text
    assert f'name="good-1" value="{typed}"' in answer.text
    assert "torn box" in answer.text
    assert not Receipt.objects.exists()


def test_row_26_the_same_parcel_by_two_people_is_asked_about(
    client, helper, owner, bolsters
):
    """Row 26: the same parcel booked twice."""
    client.force_login(helper)
    book(client, bolsters, good_1="12")
    client.force_login(owner)
    answer = book(client, bolsters, good_1="12")
    assert answer.status_code == 409
    assert "Already booked: 12" in answer.text and "Hal" in answer.text
    assert "Add mine on top" in answer.text
    # The form is sent again with the key that answers.
    answer = client.post(
        "/orders/P04/goods-in/", {"good-1": "12", "same_parcel": "yes"}, follow=True
    )
    assert answer.status_code == 200
    assert Receipt.objects.filter(accepted_milli=12_000).count() == 1
    client.post("/orders/P04/goods-in/", {"good-1": "12", "same_parcel": "no"})
    assert Receipt.objects.filter(accepted_milli=12_000).count() == 2


def test_row_26_a_double_tap_books_once(client, helper, bolsters):
    """Row 26: the same client id is answered with the first result."""
    client.force_login(helper)
    for _ in range(2):
        answer = client.post(
            "/orders/P04/goods-in/", {"good-1": "14", "client_id": "tap-1"}
        )
        assert answer.status_code == 302
    assert Receipt.objects.count() == 1


def test_a_parcel_left_shut_frees_nothing_and_nags(client, helper, ducts):
    client.force_login(helper)
    answer = client.post("/orders/P02/shut/", follow=True)
    assert "still in the box. It frees nothing until opened." in answer.text
    assert "Open it now" in answer.text
    assert client.get("/orders/").text.count("open it now") == 1


def test_wrong_pieces_need_a_reason(client, helper, ducts):
    client.force_login(helper)
    answer = book(client, ducts, wrong_1="1")
    assert answer.status_code == 422
    assert "say what is wrong" in answer.text


def test_a_viewer_may_not_book_in(client, viewer, ducts):
    client.force_login(viewer)
    assert client.post("/orders/P02/goods-in/", {"good-1": "1"}).status_code == 403


def test_a_line_without_pieces_takes_a_fraction(client, helper, shop):
    order = OrderFactory(code="P11")
    OrderLineFactory(order=order, unit=words.Unit.SQUARE_METRE, quantity_milli=400)
    client.force_login(helper)
    book(client, order, good_1="0,4")
    assert Receipt.objects.get().accepted_milli == 400


def test_goods_in_takes_as_many_queries_for_many_parcels(
    client, helper, ducts, django_assert_num_queries, django_assert_max_num_queries
):
    client.force_login(helper)
    client.get("/goods-in/")
    with django_assert_max_num_queries(60) as few:
        client.get("/goods-in/")
    for _ in range(15):
        ReceiptFactory(
            line=OrderLineFactory(),
            kind=words.ReceiptKind.IN_THE_BOX,
            counted_milli=0,
            accepted_milli=0,
        )
    with django_assert_num_queries(len(few)):
        client.get("/goods-in/")


def test_a_photo_of_what_came_is_kept_with_its_count(
    client, helper, bolsters, settings, tmp_path
):
    settings.MEDIA_ROOT = tmp_path
    content = BytesIO()
    Image.new("RGB", (40, 30)).save(content, "PNG")
    client.force_login(helper)
    photo = SimpleUploadedFile("box.png", content.getvalue())
    book(client, bolsters, good_1="14", photo=photo)
    assert Receipt.objects.get().photos.count() == 1


def test_row_55_what_is_no_image_does_not_lose_the_count(
    client, helper, bolsters, settings, tmp_path
):
    """Row 55: not an image."""
    settings.MEDIA_ROOT = tmp_path
    client.force_login(helper)
    photo = SimpleUploadedFile("box.jpg", b"MZ this is a program")
    answer = book(client, bolsters, good_1="14", photo=photo)
    assert "It is booked in, the photo is not kept." in answer.text
    assert Receipt.objects.get().accepted_milli == 14_000


def test_row_28_a_part_for_a_task_that_is_done_already_is_said(client, helper, ducts):
    """Row 28: the task was done by its fallback meanwhile."""
    TaskRecord.objects.filter(code="W13").update(state="done", done_at=MOMENT)
    client.force_login(helper)
    answer = book(client, ducts, good_1="1")
    assert "W13 done already." in answer.text
    assert "send it back" in answer.text
