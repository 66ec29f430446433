from datetime import datetime

import pytest

from fabshop import words
from fabshop.actions.order.owed import balance
from fabshop.actions.order.settle import give_up_order, make_reorder, settle_line
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, OrderLine, Settlement
from fabshop.records.shop import Person
from tests.factories import (
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    ReceiptFactory,
)


@pytest.fixture
def screws(db: None) -> OrderLine:
    line = OrderLineFactory(
        order=OrderFactory(code="P14"), title="M2.5×6", quantity_milli=60_000
    )
    ReceiptFactory(line=line, counted_milli=45_000, accepted_milli=45_000)
    return line


def test_what_is_refunded_is_not_owed_any_more(
    owner: Person, screws: OrderLine, now: datetime
) -> None:
    settlement = settle_line(
        by=owner,
        line=screws,
        how="refunded",
        quantity_milli=15_000,
        now=now,
        client_id="s",
    )
    assert balance(screws).owed_milli == 0
    screws.order.refresh_from_db()
    assert screws.order.move == words.Move.DONE
    assert LogEntry.objects.get().text == "P14/1 M2.5×6: 15 refunded"
    again = settle_line(
        by=owner, line=screws, how="refunded", quantity_milli=1, now=now, client_id="s"
    )
    assert again == settlement


def test_a_helper_may_note_that_the_rest_is_coming_and_no_more(
    helper: Person, screws: OrderLine, now: datetime
) -> None:
    settle_line(by=helper, line=screws, how="coming", quantity_milli=15_000, now=now)
    assert balance(screws).owed_milli == 15_000
    with pytest.raises(NotAllowed):
        settle_line(
            by=helper, line=screws, how="refunded", quantity_milli=15_000, now=now
        )


@pytest.mark.parametrize(
    ("how", "milli", "why"),
    [
        ("lost", 1000, "Rest coming, refunded, make it here"),
        ("refunded", 0, "P14/1 M2.5×6: 0 cannot be settled; 15 is owed"),
        ("refunded", -1000, "-1 cannot be settled"),
        ("refunded", 16_000, "16 cannot be settled; 15 is owed"),
        ("refunded", 500, "0.5 is not a whole number of pieces"),
        ("reordered", 1000, "Ordered again: on which line"),
    ],
)
def test_only_what_is_owed_is_settled(
    owner: Person, screws: OrderLine, now: datetime, how: str, milli: int, why: str
) -> None:
    with pytest.raises(BadInput, match=why):
        settle_line(by=owner, line=screws, how=how, quantity_milli=milli, now=now)
    assert not Settlement.objects.exists()


def test_a_reorder_is_a_draft_with_me_that_makes_the_wrong_ones_good(
    helper: Person, now: datetime
) -> None:
    ducts = OrderFactory(
        code="P02", move=words.Move.FIRM, file_name="duct.dxf", file_revision="B"
    )
    OrderFactory(code="P25")
    right = OrderLineFactory(order=ducts, title="Duct", hand="R")
    draft = make_reorder(
        by=helper, line=right, quantity_milli=1000, now=now, client_id="r"
    )
    assert (draft.code, draft.move, draft.sent_on) == ("P26", words.Move.ME, None)
    assert (draft.supplier, draft.file_revision) == (ducts.supplier, "B")
    line = draft.lines.get()
    assert (line.title, line.hand, line.quantity_milli) == ("Duct", "R", 1000)
    settlement = Settlement.objects.get()
    assert (settlement.how, settlement.reordered_on) == ("reordered", line)
    ducts.refresh_from_db()
    assert ducts.move == words.Move.DONE
    again = make_reorder(
        by=helper, line=right, quantity_milli=1000, now=now, client_id="r"
    )
    assert again == draft
    with pytest.raises(BadInput, match="P02/1 Duct, R: 1 cannot be settled; 0 is owed"):
        make_reorder(by=helper, line=right, quantity_milli=1000, now=now)


def test_a_reorder_of_an_odd_code_gets_a_number_and_a_taken_code_is_refused(
    owner: Person, now: datetime
) -> None:
    line = OrderLineFactory(order=OrderFactory(code="argon"), quantity_milli=2000)
    draft = make_reorder(by=owner, line=line, quantity_milli=1000, now=now)
    assert draft.code == "argon-1"
    with pytest.raises(Clash, match="There is an order argon-1 already"):
        make_reorder(by=owner, line=line, quantity_milli=1000, now=now, code="argon-1")


def test_row_29_giving_up_an_order_lists_the_tasks_that_go_on_wanting_it(
    owner: Person, helper: Person, now: datetime
) -> None:
    pods = OrderLineFactory(order=OrderFactory(code="P05"), quantity_milli=2000)
    NeedFactory(line=pods, task__code="W20", task__title="Fit pod")
    NeedFactory(line=pods, task__code="W65", task__title="Wire it")
    NeedFactory(line=pods, task__code="W19", task__state=words.TaskState.DONE)
    with pytest.raises(NeedsAnswer) as asked:
        give_up_order(by=owner, order=pods.order, now=now)
    assert str(asked.value) == (
        "P05 is needed by W20 Fit pod, W65 Wire it. Give it up all the same? "
        "They go on wanting parts until you give each another way."
    )
    assert Order.objects.get().given_up_at is None
    with pytest.raises(NotAllowed):
        give_up_order(by=helper, order=pods.order, now=now, confirm=True)
    assert give_up_order(by=owner, order=pods.order, now=now, confirm=True).given_up_at
    with pytest.raises(Clash, match="is given up already"):
        give_up_order(by=owner, order=pods.order, now=now, confirm=True)


def test_an_order_that_nobody_needs_is_given_up_unasked(
    owner: Person, now: datetime
) -> None:
    line = OrderLineFactory()
    assert give_up_order(by=owner, order=line.order, now=now).given_up_at == now
