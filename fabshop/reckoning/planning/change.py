"""What a new plan does to the one before it, in one sentence."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.facts import Facts
from fabshop.reckoning.planning.story import Story
from fabshop.reckoning.planning.way import FINAL
from fabshop.units import show_minutes, show_moment

Data = dict[str, Any]
_MOST_TOLD = 4


def story_of(plan: Data) -> Story:
    return Story(plan["question"], plan["answer"], plan["beside"])


def change_sentence(last: Data, new: Data, facts: Facts) -> str:
    """In hand, points, ways that differ, and where work under way has moved."""
    was, now = story_of(last), story_of(new)
    said = []
    before, after = was.in_hand_minutes, now.in_hand_minutes
    if before is not None and after is not None:
        same = before == after
        told = show_minutes(max(0, after))
        said.append(
            f"in hand stays {told}"
            if same
            else f"in hand {show_minutes(max(0, before))} becomes {told}"
        )
    if was.points != now.points:
        said.append(f"{was.points} points become {now.points}")
    if len(was.missing) != len(now.missing):
        count = len(now.missing)
        said.append(f"{count} must{'s' * (count != 1)} cannot be done")
    said += _ways(was, now, facts)
    said += _moved(was, now, facts)
    return "; ".join(said) + "." if said else ""


def way_words(way: str) -> str:
    if not way or way == "left":
        return "given up"
    return "final" if way == FINAL else "Plan B"


def _ways(was: Story, now: Story, facts: Facts) -> list[str]:
    goals = [
        task
        for task, about in now.beside["tasks"].items()
        if len(about["ways"]) > 1 or any(w["points"] for w in about["ways"].values())
    ]
    differ = [
        f"{task} {way_words(now.way_of[task])}, was {way_words(was.way_of[task])}"
        for task in goals
        if task in was.way_of
        and way_words(was.way_of[task]) != way_words(now.way_of[task])
        and not facts.task_by_id[task].is_finished
    ]
    more = len(differ) - _MOST_TOLD
    return differ[:_MOST_TOLD] + ([f"{more} more goals differ"] if more > 0 else [])


def _moved(was: Story, now: Story, facts: Facts) -> list[str]:
    """Work under way is never moved in silence."""
    found = []
    for task, about in now.beside["tasks"].items():
        if not about["under_way"]:
            continue
        before, after = was.starts.get(task), now.starts.get(task)
        if after is None:
            found.append(f"{task} is under way and is in no plan any more")
        elif before is not None and after > max(before, facts.now):
            found.append(f"{task}, under way, goes on {show_moment(after)}")
    return found
