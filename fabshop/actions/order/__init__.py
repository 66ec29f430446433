"""Orders: made, sent, promised, received and settled."""

from fabshop.actions.order.define import add_order, change_order
from fabshop.actions.order.line import add_line, change_line
from fabshop.actions.order.owed import Balance, balance
from fabshop.actions.order.parcel import Count
from fabshop.actions.order.receive import Loose, Received, leave_shut, receive_parcel
from fabshop.actions.order.sending import (
    mark_sent,
    promise,
    refuse_impossible_days,
    take_back_sending,
)
from fabshop.actions.order.settle import give_up_order, make_reorder, settle_line
from fabshop.actions.order.supplier import add_supplier
from fabshop.actions.order.take_back import take_back_receipt

__all__ = [
    "Balance",
    "Count",
    "Loose",
    "Received",
    "add_line",
    "add_order",
    "add_supplier",
    "balance",
    "change_line",
    "change_order",
    "give_up_order",
    "leave_shut",
    "make_reorder",
    "mark_sent",
    "promise",
    "receive_parcel",
    "refuse_impossible_days",
    "settle_line",
    "take_back_receipt",
    "take_back_sending",
]
