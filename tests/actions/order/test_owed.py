from datetime import datetime

import pytest

from fabshop import words
from fabshop.actions.moved import Before
from fabshop.actions.order.owed import (
    balance,
    line_name,
    pass_move_on,
    quantity_words,
)
from fabshop.records.order import OrderLine
from tests.factories import (
    OrderFactory,
    OrderLineFactory,
    ReceiptFactory,
    SettlementFactory,
)

pytestmark = pytest.mark.django_db
TAKEN_BACK = words.ReceiptKind.TAKEN_BACK


@pytest.fixture
def line() -> OrderLine:
    return OrderLineFactory(quantity_milli=5000)


def came(line: OrderLine, accepted: int = 0, wrong: int = 0, **fields: object) -> None:
    ReceiptFactory(
        line=line,
        counted_milli=accepted + wrong,
        accepted_milli=accepted,
        wrong_milli=wrong,
        wrong_why="hand" if wrong else "",
        **fields,
    )


def test_what_is_owed_is_what_nothing_accounts_for(line: OrderLine) -> None:
    came(line, accepted=3000, wrong=1000)
    assert balance(line).owed_milli == 2000
    assert balance(line).wrong_milli == 1000
    SettlementFactory(line=line, how="coming", quantity_milli=1000)
    SettlementFactory(
        line=line, how="refunded", quantity_milli=1000, is_taken_back=True
    )
    assert balance(line).owed_milli == 2000
    SettlementFactory(line=line, how="refunded", quantity_milli=1000)
    assert balance(line).owed_milli == 1000


def test_what_is_taken_back_counts_the_other_way(line: OrderLine) -> None:
    came(line, accepted=3000, wrong=1000)
    came(line, accepted=2000, wrong=1000, kind=TAKEN_BACK)
    assert (balance(line).accepted_milli, balance(line).wrong_milli) == (1000, 0)


def test_more_than_ordered_is_over_and_owes_nothing(line: OrderLine) -> None:
    came(line, accepted=6000)
    assert (balance(line).owed_milli, balance(line).over_milli) == (0, 1000)


def test_the_move_is_done_when_nothing_is_owed_and_back_when_something_is(
    line: OrderLine, now: datetime
) -> None:
    before: Before = {}
    came(line, accepted=5000)
    order = line.order
    pass_move_on(order, before)
    assert order.move == words.Move.DONE
    came(line, accepted=1000, kind=TAKEN_BACK)
    pass_move_on(order, before)
    assert order.move == words.Move.FIRM
    assert len(before["rows"]) == 2


def test_a_line_is_named_with_its_order_and_hand() -> None:
    line = OrderLineFactory(
        order=OrderFactory(code="P02"), title="Air duct", hand="L", unit="m2"
    )
    assert line_name(line) == "P02/1 Air duct, L"
    assert quantity_words(line, 400) == "0.4 m²"
    line.unit = "pc"
    assert quantity_words(line, 14000) == "14"
