"""The one door from the records to the facts that reckoning works on."""

from fabshop.snapshot.again import Again, must_come_off
from fabshop.snapshot.clock import Clock, plan_clock, plan_moment
from fabshop.snapshot.digest import digest
from fabshop.snapshot.order import order_facts
from fabshop.snapshot.plan import Accepted, Wall, accepted_plans, wall_of
from fabshop.snapshot.take import take, take_whole

__all__ = [
    "Accepted",
    "Again",
    "Clock",
    "Wall",
    "accepted_plans",
    "digest",
    "must_come_off",
    "order_facts",
    "plan_clock",
    "plan_moment",
    "take",
    "take_whole",
    "wall_of",
]
