"""What another day for an order does to the kept plan, before it is saved."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from fabshop.reckoning.arrivals import arrivals, last_delivery
from fabshop.reckoning.facts import Facts, TaskFact
from fabshop.reckoning.planning.needs import line_needs
from fabshop.reckoning.planning.story import Story
from fabshop.reckoning.slip import with_promise
from fabshop.units import show_minutes, show_moment


def slip_in_plan(
    facts: Facts,
    story: Story,
    order: str,
    *,
    eta_on: date | None,
    latest_on: date | None = None,
    said: str = "",
    shift: timedelta = timedelta(),
) -> tuple[str, ...]:
    """Sentences: what was in hand, what is then, and what to choose by when.

    Nothing is planned again: with the rest as planned, the end moves by what the
    part comes later than its work can wait.
    """
    needs = [one for one in line_needs(facts, story, shift) if one.order == order]
    spare = story.in_hand_minutes
    if not needs:
        return (f"The plan goes without {order}: nothing in it moves.",)
    if spare is None:
        return ()
    then = arrivals(
        with_promise(facts, order, eta_on=eta_on, latest_on=latest_on, said=said)
    )
    comes = {one.line: then[one.line].likely_at for one in needs if one.line in then}
    lost, worst = max(
        (
            (_lost(story, spare, one.needed_at, comes.get(one.line), shift), one)
            for one in needs
        ),
        key=lambda pair: pair[0],
    )
    was = f"Was {show_minutes(max(0, spare))} in hand"
    if lost <= 0:
        by = show_moment(worst.needed_at)
        return (f"{was}, and stays so: {worst.task} needs it by {by}.",)
    if lost <= spare:
        return (
            f"{was}; {show_minutes(spare - lost)} with this day, all else as planned.",
        )
    choice = _choices(facts.task_by_id.get(worst.task))
    last = last_delivery(facts, worst.needed_at)
    by = f" by {show_moment(last)}" if last else ""
    return (
        f"{was}; now impossible with this part for {worst.task}.",
        f"Choose{by}: {choice}." if choice else f"{worst.task} has no Plan B.",
    )


def _lost(
    story: Story,
    spare: int,
    needed_at: datetime,
    comes_at: datetime | None,
    shift: timedelta,
) -> int:
    """Bench minutes that the end moves by; more than all there are if never."""
    if comes_at is None or comes_at > needed_at:
        return spare + 1
    bench = story.bench
    left = bench.minutes_until(needed_at - shift) - bench.minutes_until(
        comes_at - shift
    )
    return max(0, spare - left)


def _choices(task: TaskFact | None) -> str:
    if task is None:
        return ""
    ways = [way.title for way in task.fallbacks if not way.chosen]
    if not task.required:
        ways.append("drop it")
    return " / ".join(ways)
