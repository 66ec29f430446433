"""What is used up against the day it is wanted, and the screws a teardown frees."""

from fabshop.reckoning.shelf.comes_off import comes_off
from fabshop.reckoning.shelf.day import PlannedDay, planned_days
from fabshop.reckoning.shelf.hardware import Hardware, TrayRow, hardware, thread_of
from fabshop.reckoning.shelf.keep import keeps_on, last_good_day
from fabshop.reckoning.shelf.stand import Stand, Use, stands, warnings_of
from fabshop.reckoning.shelf.to_order import ToOrder, to_order

__all__ = [
    "Hardware",
    "PlannedDay",
    "Stand",
    "ToOrder",
    "TrayRow",
    "Use",
    "comes_off",
    "hardware",
    "keeps_on",
    "last_good_day",
    "planned_days",
    "stands",
    "thread_of",
    "to_order",
    "warnings_of",
]
