"""Sent, slipped and given up: the clock starts when it is sent, every word is kept."""

from datetime import date

import pytest
from freezegun import freeze_time

from fabshop import words
from fabshop.records.order import Promise, Sending
from tests.factories import (
    MOMENT,
    BuildFactory,
    FallbackFactory,
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    PromiseFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _at_the_moment():
    with freeze_time(MOMENT):
        yield


@pytest.fixture
def figure(shop):
    order = OrderFactory(
        code="P08",
        title="Driver figure",
        sent_on=None,
        move=words.Move.ME,
        lead_likely_days=10,
        lead_late_days=16,
        build=BuildFactory(),
    )
    line = OrderLineFactory(order=order)
    task = TaskFactory(code="W29", title="Fit driver figure", build=order.build)
    NeedFactory(task=task, line=line)
    FallbackFactory(task=task, title="Block figure", minutes=48)
    return order


@pytest.fixture
def board(figure):
    order = OrderFactory(code="P06", sent_on=date(2027, 8, 24), build=figure.build)
    line = OrderLineFactory(order=order)
    PromiseFactory(order=order, eta_on=date(2027, 9, 18))
    task = TaskFactory(code="W21", title="Fit power board", build=order.build)
    NeedFactory(task=task, line=line)
    FallbackFactory(task=task, title="Spare board SP2", minutes=42)
    return order


def test_sent_starts_the_lead_clock_on_that_day(client, owner, figure):
    client.force_login(owner)
    answer = client.post("/orders/P08/sent/", {"revision": "C"}, follow=True)
    assert "P08 is sent: the lead clock runs." in answer.text
    figure.refresh_from_db()
    assert figure.sent_on == MOMENT.date()
    assert Sending.objects.get().revision == "C"


def test_the_page_of_sent_says_when_it_would_come(client, owner, figure):
    client.force_login(owner)
    text = client.get("/orders/P08/sent/").text
    assert "Last sure day to send:" in text
    assert "Sent today it comes Mon 13 Sep" in text


def test_not_sent_after_all_gives_the_ball_back(client, owner, figure):
    client.force_login(owner)
    client.post("/orders/P08/sent/", {"revision": "C"})
    answer = client.post("/orders/P08/sent/", {"not_sent": "1"}, follow=True)
    assert "P08 was not sent after all; the ball is yours." in answer.text
    figure.refresh_from_db()
    assert figure.sent_on is None and figure.move == words.Move.ME


def test_a_revised_file_asks_which_revision_went_out(client, owner, figure):
    figure.file_name = "figure.stl"
    figure.save()
    client.force_login(owner)
    answer = client.post("/orders/P08/sent/", {})
    assert answer.status_code == 409
    assert "Which revision of figure.stl went out?" in answer.text
    assert "Yes, so it is" not in answer.text


def test_a_slip_says_its_effect_before_it_is_saved(client, owner, board):
    client.force_login(owner)
    answer = client.post("/orders/P06/slipped/", {"later": "7"})
    assert answer.status_code == 200
    assert "With this part W21 can no longer be done in time." in answer.text
    assert "it must begin by" in answer.text
    assert "Plan B: Spare board SP2 (42 min)." in answer.text
    assert 'name="eta_on" value="2027-09-25"' in answer.text
    assert Promise.objects.count() == 1


def test_saving_a_slip_keeps_the_words_before_it(client, owner, board):
    client.force_login(owner)
    client.post("/orders/P06/slipped/", {"eta_on": "2027-09-20", "do": "save"})
    text = client.get("/orders/P06/").text
    assert "Sat 18 Sep" in text and "Mon 20 Sep" in text
    assert "2 days late" in text


def test_row_19_an_eta_before_the_sent_day_is_refused_and_kept(client, owner, board):
    """Row 19: ETA before ordered date."""
    client.force_login(owner)
    for do in ("save", ""):
        typed = {"eta_on": "2027-08-20", "do": do}
        answer = client.post("/orders/P06/slipped/", typed)
        assert answer.status_code == 422
        assert "it cannot come before it was sent" in answer.text
        assert 'value="2027-08-20"' in answer.text
    assert Promise.objects.count() == 1


def test_row_20_an_eta_on_a_day_without_deliveries_is_accepted(client, owner, board):
    """Row 20: the plan uses the next delivery day and says so."""
    from_shop = {"eta_on": "2027-09-19", "do": "save"}
    client.force_login(owner)
    assert client.post("/orders/P06/slipped/", from_shop).status_code == 302


@pytest.mark.parametrize("said", ["next week", "??"])
def test_row_21_words_without_a_day_are_kept_as_words(client, owner, board, said):
    """Row 21: ETA "next week", "??"."""
    client.force_login(owner)
    client.post("/orders/P06/slipped/", {"said": said, "do": "save"})
    assert Promise.objects.latest("id").eta_on is None
    text = client.get("/orders/P06/").text
    assert f"“{said}”" in text


def test_row_21_words_in_the_field_of_the_day_are_refused_with_a_way(
    client, owner, board
):
    """Row 21: words typed where a day belongs."""
    client.force_login(owner)
    answer = client.post("/orders/P06/slipped/", {"eta_on": "next week", "do": "save"})
    assert answer.status_code == 422
    assert "“next week” is not a day" in answer.text


def test_row_22_an_order_not_sent_has_no_eta(client, owner, figure):
    """Row 22: the clock starts when it is sent."""
    client.force_login(owner)
    for do in ("save", ""):
        typed = {"eta_on": "2027-09-20", "do": do}
        answer = client.post("/orders/P08/slipped/", typed)
        assert answer.status_code == 422
        assert "The clock starts when it is sent" in answer.text
    assert not Promise.objects.filter(order__code="P08").exists()


def test_row_29_giving_up_what_a_task_needs_lists_the_task(client, owner, board):
    """Row 29: cancel an order that a task needs; nothing is unblocked in silence."""
    client.force_login(owner)
    answer = client.post("/orders/P06/give-up/", {})
    assert answer.status_code == 409
    assert "W21 Fit power board" in answer.text and "Yes, so it is" in answer.text
    client.post("/orders/P06/give-up/", {"confirm": "yes"})
    assert "the order was given up" in client.get("/tasks/W21/").text


def test_only_the_owner_says_sent_or_slipped(client, helper, board):
    client.force_login(helper)
    for verb in ("sent", "slipped", "give-up"):
        answer = client.post(f"/orders/P06/{verb}/", {"eta_on": "2027-09-20"})
        assert answer.status_code == 403
