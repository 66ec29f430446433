"""Until when a consumable is good, and how that lies to the day of its use."""

from __future__ import annotations

from datetime import date, timedelta

from fabshop import words
from fabshop.reckoning.facts import ConsumableFact


def last_good_day(thing: ConsumableFact) -> date | None:
    """The earlier of its use-by day and the end of its opened life; None = unknown.

    Opened on an unknown day, with an opened life, it could have ended any day: only
    a use-by day that it cannot outlast says something then.
    """
    if thing.is_lasting:
        return None
    ends = [thing.use_by_on] if thing.use_by_on else []
    if thing.opened_on and thing.opened_life_days is not None:
        ends.append(thing.opened_on + timedelta(days=thing.opened_life_days))
    return min(ends, default=None)


def keeps_on(thing: ConsumableFact, on: date | None, today: date) -> words.Keeps:
    """Whether it is still good on the day `on`; unknown is never called good."""
    if thing.is_lasting:
        return words.Keeps.LASTING
    last = last_good_day(thing)
    if last is not None and last < today:
        return words.Keeps.GONE_OFF
    if last is not None and on is not None and last < on:
        return words.Keeps.GOES_OFF_FIRST
    is_dark = (
        thing.is_opened
        and thing.opened_on is None
        and thing.opened_life_days is not None
    )
    if last is None or on is None or is_dark:
        return words.Keeps.UNKNOWN
    return words.Keeps.GOOD
