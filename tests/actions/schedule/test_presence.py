"""When somebody is in, what sends an order off, and who may help."""

from __future__ import annotations

import pytest

from fabshop.actions.schedule import set_may_help, set_presence, set_sent_with
from fabshop.errors import BadInput, NotAllowed
from fabshop.records.schedule import Presence
from tests.factories import MOMENT, OrderFactory, TaskFactory

pytestmark = pytest.mark.django_db


def test_presence_is_said_anew(owner):
    set_presence(by=owner, rows=[(0, 405, 450), (0, 405, 450)], now=MOMENT)
    set_presence(by=owner, rows=[(4, 1110, 1320)], now=MOMENT)
    assert list(
        Presence.objects.values_list("weekday", "from_minute", "to_minute")
    ) == [(4, 1110, 1320)]


@pytest.mark.parametrize("row", [(7, 1, 2), (0, 5, 5), (0, 10, 1441)])
def test_presence_lies_within_a_day(owner, row):
    with pytest.raises(BadInput):
        set_presence(by=owner, rows=[row], now=MOMENT)
    assert not Presence.objects.exists()


def test_an_order_goes_off_with_a_task(owner):
    order, task = OrderFactory(), TaskFactory()
    set_sent_with(by=owner, order=order, task=task, now=MOMENT)
    order.refresh_from_db()
    assert order.sent_with == task
    set_sent_with(by=owner, order=order, task=None, now=MOMENT)
    order.refresh_from_db()
    assert order.sent_with is None


def test_it_does_not_go_off_with_what_was_given_up(owner):
    with pytest.raises(BadInput, match="is given up"):
        set_sent_with(
            by=owner,
            order=OrderFactory(),
            task=TaskFactory(state="given-up"),
            now=MOMENT,
        )


def test_a_helper_may_do_what_the_owner_says(owner, helper):
    task = TaskFactory()
    set_may_help(by=owner, task=task, may_help=True, now=MOMENT)
    task.refresh_from_db()
    assert task.may_help
    with pytest.raises(NotAllowed):
        set_may_help(by=helper, task=task, may_help=False, now=MOMENT)
