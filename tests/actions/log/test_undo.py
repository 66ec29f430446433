from datetime import datetime, timedelta

import pytest

from fabshop import words
from fabshop.actions.log.timer import start_work, stop_work
from fabshop.actions.log.undo import undo_entry
from fabshop.actions.log.work import finish_work, note, part_done
from fabshop.actions.order import (
    Count,
    balance,
    give_up_order,
    leave_shut,
    make_reorder,
    mark_sent,
    promise,
    receive_parcel,
    settle_line,
    take_back_sending,
)
from fabshop.actions.order.receipt import is_in_the_box
from fabshop.actions.task import reopen_task, sign_hold, take_reading
from fabshop.errors import Clash, NotAllowed
from fabshop.records.log import LogEntry, Timer
from fabshop.records.order import Order, OrderLine
from fabshop.records.shop import Person
from fabshop.records.task import Task, hold_verdict
from tests.factories import (
    ComponentFactory,
    OrderFactory,
    OrderLineFactory,
    ReadingFactory,
    SiteFactory,
    TaskFactory,
)

MINUTE = timedelta(minutes=1)


@pytest.fixture
def weld(owner: Person) -> Task:
    return TaskFactory(code="W33", title="Weld the loop")


@pytest.fixture
def plates(owner: Person) -> OrderLine:
    order = OrderFactory(code="P04", move=words.Move.FIRM)
    return OrderLineFactory(order=order, quantity_milli=14_000)


def entry(kind: str) -> LogEntry:
    return LogEntry.objects.filter(kind=kind).order_by("id").last()  # type: ignore[return-value]


def test_an_undo_is_a_reversing_line_and_nothing_is_deleted(
    owner: Person, now: datetime
) -> None:
    line = note(by=owner, text="W33 looks good", now=now)
    undo = undo_entry(by=owner, entry=line, now=now + 10 * MINUTE, client_id="u")
    assert (undo.kind, undo.reverses, undo.text) == ("undo", line, "Undone: note")
    assert undo_entry(by=owner, entry=line, now=now, client_id="u") == undo
    assert LogEntry.objects.count() == 2
    with pytest.raises(Clash, match="That was undone already, Fri 3 Sep 06:55"):
        undo_entry(by=owner, entry=line, now=now)
    with pytest.raises(Clash, match="An undo is not undone"):
        undo_entry(by=owner, entry=undo, now=now)


def test_after_ten_minutes_on_the_servers_clock_it_stands(
    owner: Person, now: datetime
) -> None:
    late = note(by=owner, text="x", now=now, at=now - timedelta(days=2))
    undo_entry(by=owner, entry=late, now=now + 10 * MINUTE)
    line = note(by=owner, text="x", now=now)
    with pytest.raises(Clash) as refused:
        undo_entry(by=owner, entry=line, now=now + 10 * MINUTE + timedelta(seconds=1))
    assert str(refused.value) == (
        "The ten minutes are over; that was Fri 3 Sep 06:45. "
        "Write what is true now instead."
    )


def test_one_undoes_ones_own_lines_and_the_owner_anybodys(
    owner: Person, helper: Person, viewer: Person, now: datetime
) -> None:
    own, theirs = note(by=owner, text="x", now=now), note(by=helper, text="y", now=now)
    with pytest.raises(
        NotAllowed, match="That line is Olive's; only they or the owner"
    ):
        undo_entry(by=helper, entry=own, now=now)
    with pytest.raises(NotAllowed):
        undo_entry(by=viewer, entry=own, now=now)
    assert undo_entry(by=owner, entry=theirs, now=now).person == owner


def test_undoing_a_start_takes_the_timer_away(
    owner: Person, weld: Task, now: datetime
) -> None:
    start = start_work(by=owner, task=weld, now=now)
    undo_entry(by=owner, entry=start, now=now)
    weld.refresh_from_db()
    assert weld.state == words.TaskState.OPEN
    assert not Timer.objects.exists()


def test_undoing_a_stop_lets_the_timer_run_on_and_stop_again(
    owner: Person, weld: Task, now: datetime
) -> None:
    start = start_work(by=owner, task=weld, now=now)
    stop = stop_work(by=owner, now=now + MINUTE)
    with pytest.raises(Clash, match="has changed since; this cannot be undone"):
        undo_entry(by=owner, entry=start, now=now + MINUTE)
    undo_entry(by=owner, entry=stop, now=now + MINUTE)
    weld.refresh_from_db()
    assert weld.state == words.TaskState.UNDER_WAY
    assert Timer.objects.get().start == start
    assert stop_work(by=owner, now=now + 5 * MINUTE).minutes == 5


def test_a_stop_is_not_undone_while_another_timer_runs(
    owner: Person, weld: Task, now: datetime
) -> None:
    start_work(by=owner, task=weld, now=now)
    stop = stop_work(by=owner, now=now + MINUTE)
    start_work(by=owner, task=TaskFactory(code="W03", title="Sand"), now=now + MINUTE)
    with pytest.raises(Clash, match="Olive is on W03 Sand now; stop that first"):
        undo_entry(by=owner, entry=stop, now=now + MINUTE)
    assert not LogEntry.objects.filter(kind="undo").exists()


def test_undoing_a_switch_puts_the_first_timer_back(
    owner: Person, weld: Task, now: datetime
) -> None:
    first = start_work(by=owner, task=weld, now=now)
    second = start_work(by=owner, task=TaskFactory(), now=now + MINUTE, switch=True)
    undo_entry(by=owner, entry=second, now=now + MINUTE)
    assert Timer.objects.get().start == first


def test_undoing_done_undoes_all_that_the_tap_did(
    owner: Person, weld: Task, now: datetime
) -> None:
    loop = ComponentFactory(
        build=weld.build, state=words.ComponentState.MISSING, is_on=False
    )
    SiteFactory(task=weld, component=loop)
    part_done(by=owner, task=weld, now=now, left_minutes=30)
    start = start_work(by=owner, task=weld, now=now)
    done = finish_work(by=owner, task=weld, now=now + MINUTE)
    undo = undo_entry(by=owner, entry=done, now=now + MINUTE)
    assert undo.reverses == done
    weld.refresh_from_db()
    loop.refresh_from_db()
    assert (weld.state, weld.done_at) == (words.TaskState.UNDER_WAY, None)
    assert weld.left_minutes == 30
    assert (loop.state, loop.is_on) == (words.ComponentState.MISSING, False)
    assert Timer.objects.get().start == start
    assert entry("stop").reversed_by.kind == "undo"


def test_what_has_moved_on_since_is_not_undone(
    owner: Person, helper: Person, weld: Task, now: datetime
) -> None:
    done = finish_work(by=helper, task=weld, now=now)
    reopen_task(by=owner, task=weld, now=now)
    with pytest.raises(Clash, match="W33 Weld the loop has changed since"):
        undo_entry(by=helper, entry=done, now=now)
    undo_entry(by=owner, entry=entry("reopened"), now=now)
    weld.refresh_from_db()
    assert weld.state == words.TaskState.DONE


def test_undoing_a_parcel_takes_its_pieces_back(
    owner: Person, plates: OrderLine, now: datetime
) -> None:
    counts = [Count(plates, 14_000, 1000, "hole")]
    receive_parcel(by=owner, order=plates.order, counts=counts, now=now)
    undo_entry(by=owner, entry=entry("received"), now=now)
    stands = balance(plates)
    assert (stands.accepted_milli, stands.wrong_milli) == (0, 0)
    plates.order.refresh_from_db()
    assert plates.order.move == words.Move.FIRM
    # Booked in again it is no second parcel.
    receive_parcel(by=owner, order=plates.order, counts=counts, now=now)


def test_undoing_the_count_of_a_box_leaves_it_shut_again(
    owner: Person, plates: OrderLine, now: datetime
) -> None:
    leave_shut(by=owner, order=plates.order, now=now)
    shut = entry("received")
    later = now + MINUTE
    receive_parcel(
        by=owner, order=plates.order, counts=[Count(plates, 14_000)], now=later
    )
    undo_entry(by=owner, entry=entry("received"), now=later)
    assert is_in_the_box(plates)
    undo_entry(by=owner, entry=shut, now=later + MINUTE)
    assert not is_in_the_box(plates)


def test_sending_and_not_sending_are_undone(owner: Person, now: datetime) -> None:
    order = OrderFactory(sent_on=None, move=words.Move.ME)
    mark_sent(by=owner, order=order, now=now, client_id="s")
    undo_entry(by=owner, entry=LogEntry.objects.get(client_id="s"), now=now)
    order.refresh_from_db()
    assert (order.sent_on, order.move) == (None, words.Move.ME)
    assert order.sendings.get().is_taken_back
    mark_sent(by=owner, order=order, now=now)
    take_back_sending(by=owner, order=order, now=now)
    undo_entry(by=owner, entry=entry("not-sent-after-all"), now=now)
    order.refresh_from_db()
    assert order.sent_on is not None
    assert order.sendings.filter(is_taken_back=False).count() == 1


def test_a_settlement_is_undone(
    owner: Person, plates: OrderLine, now: datetime
) -> None:
    settle_line(by=owner, line=plates, how="refunded", quantity_milli=14_000, now=now)
    undo_entry(by=owner, entry=entry("settled"), now=now)
    assert balance(plates).owed_milli == 14_000
    plates.order.refresh_from_db()
    assert plates.order.move == words.Move.FIRM


def test_a_reorder_is_undone_with_its_draft_unless_that_was_sent(
    owner: Person, plates: OrderLine, now: datetime
) -> None:
    draft = make_reorder(by=owner, line=plates, quantity_milli=2000, now=now)
    undo_entry(by=owner, entry=entry("settled"), now=now)
    draft.refresh_from_db()
    assert draft.given_up_at == now
    assert balance(plates).owed_milli == 14_000
    again = make_reorder(by=owner, line=plates, quantity_milli=2000, now=now)
    reorder = entry("settled")
    mark_sent(by=owner, order=again, now=now)
    with pytest.raises(Clash, match="was sent since; take that back first"):
        undo_entry(by=owner, entry=reorder, now=now)


def test_giving_up_an_order_is_undone(owner: Person, now: datetime) -> None:
    give_up_order(by=owner, order=OrderFactory(), now=now)
    undo_entry(by=owner, entry=entry("given-up-task"), now=now)
    assert Order.objects.get().given_up_at is None


def test_a_signature_is_undone_and_the_hold_is_open_again(
    owner: Person, now: datetime
) -> None:
    hold = TaskFactory(is_hold=True)
    sign_hold(by=owner, task=hold, now=now)
    undo_entry(by=owner, entry=entry("hold"), now=now)
    hold.refresh_from_db()
    assert hold.state == words.TaskState.OPEN
    assert hold_verdict(hold.signings.all()) is None


def test_what_is_said_anew_instead_is_not_undone(
    owner: Person, plates: OrderLine, now: datetime
) -> None:
    promise(by=owner, order=plates.order, said="soon", now=now)
    take_reading(by=owner, reading=ReadingFactory(), value=1, now=now)
    for kind, name in (("promised", "promised"), ("hold", "hold")):
        with pytest.raises(Clash) as refused:
            undo_entry(by=owner, entry=entry(kind), now=now)
        assert str(refused.value) == (
            f"“{name}” is not undone here: say it anew, the latest counts."
        )
