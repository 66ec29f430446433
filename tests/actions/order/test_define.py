from datetime import datetime
from typing import Any

import pytest

from fabshop import words
from fabshop.actions.order.define import add_order, change_order
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, Supplier
from fabshop.records.shop import Person
from tests.factories import BuildFactory, OrderFactory, SupplierFactory


@pytest.fixture
def firm(db: None) -> Supplier:
    return SupplierFactory()


def add(by: Person, firm: Supplier, now: datetime, **fields: Any) -> Order:
    fields = {"code": "P02", "title": "Air ducts", "kind": "cut"} | fields
    return add_order(by=by, supplier=firm, now=now, **fields)


def test_an_order_is_added_with_its_lines_and_is_with_me(
    owner: Person, firm: Supplier, now: datetime
) -> None:
    order = add(
        owner,
        firm,
        now,
        lead=(6, 8, 11),
        build=BuildFactory(),
        lines=[
            {"title": "Duct", "quantity_milli": 1000, "hand": "L"},
            {"title": "Duct", "quantity_milli": 1000, "hand": "R"},
            {"title": "Twill", "quantity_milli": 400, "unit": "m2"},
        ],
        client_id="o1",
    )
    order.refresh_from_db()
    assert order.move == words.Move.ME
    assert (order.lead_early_days, order.lead_late_days) == (6, 11)
    assert [(x.number, x.hand, x.unit) for x in order.lines.all()] == [
        (1, "L", "pc"),
        (2, "R", "pc"),
        (3, "", "m2"),
    ]
    assert LogEntry.objects.get().text == "Order added: P02 Air ducts"
    assert add(owner, firm, now, client_id="o1") == order


@pytest.mark.parametrize(
    ("lead", "shown"),
    [
        ((9, 8, 11), "9 / 8 / 11"),
        ((6, 12, 11), "6 / 12 / 11"),
        ((12, None, 11), "12 / — / 11"),
    ],
)
def test_row_23_lead_days_that_go_down_are_refused_with_the_three_shown(
    owner: Person, firm: Supplier, now: datetime, lead: Any, shown: str
) -> None:
    with pytest.raises(BadInput) as refused:
        add(owner, firm, now, lead=lead)
    assert str(refused.value) == (
        f"Lead days {shown}: early comes first, then likely, then late."
    )
    assert not Order.objects.exists()


@pytest.mark.parametrize(
    ("fields", "why"),
    [
        ({"kind": "gift"}, "“gift” is no kind of order"),
        ({"move": "you"}, "“you” is nobody's move"),
        ({"title": " "}, "What: nothing is written"),
        ({"file_revision": "x" * 13}, "Revision: 13 characters, but at most 12"),
        ({"lead_late_days": -1}, "Lead days: -1 is less than nothing"),
        ({"code": "P 2"}, "“P 2” will not do"),
    ],
)
def test_what_cannot_be_is_refused_by_name(
    owner: Person, firm: Supplier, now: datetime, fields: dict[str, Any], why: str
) -> None:
    with pytest.raises(BadInput, match=why):
        add(owner, firm, now, **fields)


def test_a_code_is_given_once(owner: Person, firm: Supplier, now: datetime) -> None:
    add(owner, firm, now)
    with pytest.raises(Clash, match="There is an order P02 already"):
        add(owner, firm, now)


def test_only_the_owner_adds_and_changes(
    helper: Person, firm: Supplier, now: datetime
) -> None:
    with pytest.raises(NotAllowed):
        add(helper, firm, now)
    with pytest.raises(NotAllowed):
        change_order(by=helper, order=OrderFactory(), version=1, now=now, note="x")


def test_a_change_raises_the_version_and_says_what_changed(
    owner: Person, firm: Supplier, now: datetime
) -> None:
    order = OrderFactory(file_revision="B")
    changed = change_order(
        by=owner, order=order, version=1, now=now, file_revision="C", supplier=firm
    )
    changed.refresh_from_db()
    assert (changed.file_revision, changed.supplier, changed.version) == ("C", firm, 2)
    assert LogEntry.objects.get().text == "Changed: file revision, supplier"
    assert change_order(by=owner, order=order, version=2, now=now, note="").version == 2
    assert LogEntry.objects.count() == 1


def test_a_change_of_what_has_moved_since_is_refused(
    owner: Person, now: datetime
) -> None:
    order = OrderFactory(code="P05", title="Drive pod", version=3)
    with pytest.raises(Clash, match="P05 Drive pod has changed since you read it"):
        change_order(by=owner, order=order, version=2, now=now, note="x")


def test_a_change_is_checked_against_what_stays(owner: Person, now: datetime) -> None:
    order = OrderFactory(lead_early_days=3, lead_likely_days=7, lead_late_days=10)
    with pytest.raises(BadInput, match="Lead days 3 / 11 / 10"):
        change_order(by=owner, order=order, version=1, now=now, lead_likely_days=11)
    with pytest.raises(BadInput, match="An order has no sent_on"):
        change_order(by=owner, order=order, version=1, now=now, sent_on=now.date())
