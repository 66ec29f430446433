"""Orders: made, sent, promised, received and settled."""

from fabshop.actions.order.define import add_order, change_order
from fabshop.actions.order.line import add_line, change_line
from fabshop.actions.order.owed import balance
from fabshop.actions.order.sending import mark_sent, promise, take_back_sending
from fabshop.actions.order.supplier import add_supplier

__all__ = [
    "add_line",
    "add_order",
    "add_supplier",
    "balance",
    "change_line",
    "change_order",
    "mark_sent",
    "promise",
    "take_back_sending",
]
