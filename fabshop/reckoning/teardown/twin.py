"""One order with two schedules: as early as it can be, and as late as it may be."""

from __future__ import annotations

from itertools import combinations

from fabshop.reckoning.teardown.choice import Choice
from fabshop.reckoning.teardown.order import Order


class Twin:
    """Two schedules of one choice whose steps follow one another in the same order.

    The order that can wait longest and the order that ends first are often not the
    same; only a model with both schedules can weigh one against the other.
    """

    def __init__(self, choice: Choice) -> None:
        self.early = Order(choice)
        self.late = Order(choice)
        self.model = choice.model
        self._both_keep_one_order()

    def _both_keep_one_order(self) -> None:
        steps = list(self.early.present)
        for one, other in combinations(steps, 2):
            if one.session != other.session:
                continue
            both = self.early.present[one], self.early.present[other]
            first = self.model.new_bool_var(f"{one} before {other}")
            for order in (self.early, self.late):
                self.model.add(order.end(one) <= order.start[other]).only_enforce_if(
                    first, *both
                )
                self.model.add(order.end(other) <= order.start[one]).only_enforce_if(
                    ~first, *both
                )
