"""The one door from the records to the facts that reckoning works on."""

from fabshop.snapshot.clock import Clock, plan_clock, plan_moment
from fabshop.snapshot.digest import digest
from fabshop.snapshot.order import order_facts
from fabshop.snapshot.take import take

__all__ = ["Clock", "digest", "order_facts", "plan_clock", "plan_moment", "take"]
