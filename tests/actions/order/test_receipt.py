from datetime import datetime, timedelta

from fabshop import words
from fabshop.actions.order.receipt import is_in_the_box, write_receipt
from fabshop.records.shop import Person
from tests.factories import OrderLineFactory


def test_a_box_is_shut_until_somebody_counts(owner: Person, now: datetime) -> None:
    line = OrderLineFactory()
    assert not is_in_the_box(line)
    shut = words.ReceiptKind.IN_THE_BOX
    write_receipt(line, by=owner, at=now, parcel="a", kind=shut, note="on the\nshelf")
    assert is_in_the_box(line)
    assert line.receipts.get().note == "on the shelf"
    later = now + timedelta(hours=1)
    receipt = write_receipt(line, by=owner, at=later, parcel="b", accepted_milli=1000)
    assert receipt.counted_milli == 1000
    assert not is_in_the_box(line)
