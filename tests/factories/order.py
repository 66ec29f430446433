"""Factories of orders, what was promised and what came."""

from __future__ import annotations

from datetime import date

import factory
from factory.django import DjangoModelFactory

from fabshop import words
from fabshop.records import order
from tests.factories.moment import MOMENT, client_id


class SupplierFactory(DjangoModelFactory[order.Supplier]):
    class Meta:
        model = order.Supplier

    code = factory.Sequence(lambda n: f"supplier-{n}")
    name = factory.Sequence(lambda n: f"Supplier {n}")


class OrderFactory(DjangoModelFactory[order.Order]):
    class Meta:
        model = order.Order

    code = factory.Sequence(lambda n: f"P{n:02}")
    supplier = factory.SubFactory(SupplierFactory)
    title = factory.Sequence(lambda n: f"Order {n}")
    kind = words.OrderKind.BOUGHT
    move = words.Move.FIRM
    sent_on = date(2027, 8, 30)
    lead_early_days = 3
    lead_likely_days = 7
    lead_late_days = 10
    made_at = MOMENT


class OrderLineFactory(DjangoModelFactory[order.OrderLine]):
    class Meta:
        model = order.OrderLine

    order = factory.SubFactory(OrderFactory)
    number = 1
    title = factory.Sequence(lambda n: f"Line {n}")
    quantity_milli = 1000


class SendingFactory(DjangoModelFactory[order.Sending]):
    class Meta:
        model = order.Sending

    order = factory.SubFactory(OrderFactory)
    sent_on = date(2027, 8, 30)
    at = MOMENT
    client_id = client_id()


class PromiseFactory(DjangoModelFactory[order.Promise]):
    class Meta:
        model = order.Promise

    order = factory.SubFactory(OrderFactory)
    eta_on = date(2027, 9, 9)
    at = MOMENT
    client_id = client_id()


class ReceiptFactory(DjangoModelFactory[order.Receipt]):
    class Meta:
        model = order.Receipt

    line = factory.SubFactory(OrderLineFactory)
    kind = words.ReceiptKind.COUNTED
    counted_milli = 1000
    accepted_milli = 1000
    parcel = factory.Sequence(lambda n: f"parcel-{n}")
    at = MOMENT
    client_id = client_id()


class SettlementFactory(DjangoModelFactory[order.Settlement]):
    class Meta:
        model = order.Settlement

    line = factory.SubFactory(OrderLineFactory)
    how = words.Settled.REFUNDED
    quantity_milli = 1000
    at = MOMENT
    client_id = client_id()
