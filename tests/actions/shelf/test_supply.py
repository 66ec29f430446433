"""An order line that fills the shelf: booked in, it counts; taken back, it does not."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.log import undo_entry
from fabshop.actions.order import Count, receive_parcel
from fabshop.actions.shelf import fill_from_line
from fabshop.actions.shelf.locked import left_of
from fabshop.errors import BadInput, Clash
from fabshop.records.log import LogEntry
from fabshop.records.shelf import Consumable, Tray
from fabshop.records.shop import Person
from tests.factories import OrderFactory, OrderLineFactory
from tests.factories.moment import TODAY

pytestmark = pytest.mark.django_db


def test_what_is_booked_in_counts_at_once_and_an_undo_takes_it_back(
    nuts: Tray, owner: Person, now: datetime
) -> None:
    order = OrderFactory(sent_on=TODAY)
    line = OrderLineFactory(order=order, quantity_milli=60_000)
    fill_from_line(by=owner, line=line, thing=nuts, now=now)
    receive_parcel(
        by=owner,
        order=order,
        counts=[Count(line=line, accepted_milli=45_000)],
        now=now,
        client_id="parcel",
    )
    assert left_of(nuts) == 57_000
    undo_entry(by=owner, entry=LogEntry.objects.get(client_id="parcel"), now=now)
    assert left_of(nuts) == 12_000


def test_a_line_fills_one_thing(
    nuts: Tray, resin: Consumable, owner: Person, now: datetime
) -> None:
    line = OrderLineFactory()
    with pytest.raises(BadInput, match="0 fills nothing"):
        fill_from_line(by=owner, line=line, thing=resin, each_milli=0, now=now)
    fill_from_line(by=owner, line=line, thing=resin, each_milli=20_000, now=now)
    with pytest.raises(Clash, match="fills something already"):
        fill_from_line(by=owner, line=line, thing=nuts, now=now)
