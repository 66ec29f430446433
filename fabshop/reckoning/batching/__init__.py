"""From the shop's facts to a teardown question, and from answer to answer."""

from fabshop.reckoning.batching.batch import Batch, default_tasks, teardown_batch
from fabshop.reckoning.batching.bench import Taken
from fabshop.reckoning.batching.differ import (
    destroyed,
    in_hand_minutes,
    steps_that_differ,
)
from fabshop.reckoning.batching.gate import Gate, Wait

__all__ = [
    "Batch",
    "Gate",
    "Taken",
    "Wait",
    "default_tasks",
    "destroyed",
    "in_hand_minutes",
    "steps_that_differ",
    "teardown_batch",
]
