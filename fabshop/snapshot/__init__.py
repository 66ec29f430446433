"""The one door from the records to the facts that reckoning works on."""

from fabshop.snapshot.clock import Clock, plan_clock, plan_moment
from fabshop.snapshot.digest import digest
from fabshop.snapshot.order import order_facts
from fabshop.snapshot.plan import Accepted, accepted_plans
from fabshop.snapshot.take import take

__all__ = [
    "Accepted",
    "Clock",
    "accepted_plans",
    "digest",
    "order_facts",
    "plan_clock",
    "plan_moment",
    "take",
]
