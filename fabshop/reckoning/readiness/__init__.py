"""Why each task can or cannot be done now, when that clears, and what hangs on it."""

from fabshop.reckoning.readiness.hanging import Hanging, hangs_on
from fabshop.reckoning.readiness.hold import kept_open
from fabshop.reckoning.readiness.ready import (
    TaskReady,
    blocked_by_undelivered,
    readiness,
    stamp,
)
from fabshop.reckoning.readiness.reasons import Outlook, Reason
from fabshop.reckoning.readiness.start import Startable, start_now
from fabshop.reckoning.readiness.wants import Want, wants

__all__ = [
    "Hanging",
    "Outlook",
    "Reason",
    "Startable",
    "TaskReady",
    "Want",
    "blocked_by_undelivered",
    "hangs_on",
    "kept_open",
    "readiness",
    "stamp",
    "start_now",
    "wants",
]
