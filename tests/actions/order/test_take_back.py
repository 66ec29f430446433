from datetime import datetime

import pytest

from fabshop import words
from fabshop.actions.order.owed import balance
from fabshop.actions.order.take_back import take_back_receipt
from fabshop.errors import BadInput, Clash
from fabshop.records.log import LogEntry
from fabshop.records.order import Receipt
from fabshop.records.shop import Person
from tests.factories import OrderFactory, OrderLineFactory, ReceiptFactory


@pytest.fixture
def receipt(owner: Person) -> Receipt:
    order = OrderFactory(code="P04", move=words.Move.DONE)
    return ReceiptFactory(
        line=OrderLineFactory(order=order, title="Plate", quantity_milli=4000),
        counted_milli=5000,
        accepted_milli=4000,
        wrong_milli=1000,
        wrong_why="hole",
    )


def test_all_of_a_receipt_is_taken_back_once(
    owner: Person, receipt: Receipt, now: datetime
) -> None:
    back = take_back_receipt(by=owner, receipt=receipt, now=now, client_id="t")
    assert (back.kind, back.sign, back.counted_milli) == ("taken-back", -1, 5000)
    stands = balance(receipt.line)
    assert (stands.accepted_milli, stands.wrong_milli) == (0, 0)
    receipt.line.order.refresh_from_db()
    assert receipt.line.order.move == words.Move.FIRM
    assert LogEntry.objects.get().text == "P04/1 Plate: 5 taken back"
    assert take_back_receipt(by=owner, receipt=receipt, now=now, client_id="t") == back
    with pytest.raises(Clash, match="all of that was taken back already"):
        take_back_receipt(by=owner, receipt=receipt, now=now)
    with pytest.raises(Clash, match="book it in again instead"):
        take_back_receipt(by=owner, receipt=back, now=now)


def test_some_of_it_may_be_taken_back_but_never_more_than_is_here(
    owner: Person, receipt: Receipt, now: datetime
) -> None:
    take_back_receipt(
        by=owner, receipt=receipt, now=now, accepted_milli=1000, wrong_milli=0
    )
    assert balance(receipt.line).owed_milli == 1000
    with pytest.raises(BadInput) as refused:
        take_back_receipt(
            by=owner, receipt=receipt, now=now, accepted_milli=4000, wrong_milli=0
        )
    assert str(refused.value) == (
        "P04/1 Plate: 4 cannot be taken back; 3 of that is here."
    )
    with pytest.raises(BadInput, match=r"1.5 cannot be taken back"):
        take_back_receipt(
            by=owner, receipt=receipt, now=now, accepted_milli=1500, wrong_milli=0
        )
