"""The kept plan in sentences, the same on every page and on the wall."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from fabshop.reckoning.planning.story import Story
from fabshop.reckoning.planning.way import FINAL
from fabshop.reckoning.readiness import Startable
from fabshop.units import show_minutes, show_moment

_MOST_NAMED = 5


def lead(story: Story, shift: timedelta = timedelta()) -> str:
    """Pack-out made or not, hours in hand, points: the sentence on top."""
    points = f"{story.points} of {story.most_points} points"
    if story.missing or story.finish is None:
        return (
            f"Pack-out is not made: {_musts(story)} cannot be done in time. {points}."
        )
    done = show_moment(story.finish + shift)
    spare = story.in_hand_minutes
    if spare is None:
        return f"All is done {done}. {points}."
    return f"Pack-out is made {done}, {show_minutes(spare)} in hand. {points}."


def late_words(late: Story | None) -> str:
    """The same shop with every parcel on its late day."""
    if late is None:
        return ""
    opening = "With every parcel on its late day"
    if late.missing:
        named = ", ".join(late.missing[:_MOST_NAMED])
        return f"{opening} {_musts(late)} cannot be done: {named}."
    spare = late.in_hand_minutes
    told = f", {show_minutes(max(0, spare))} in hand" if spare is not None else ""
    return f"{opening}: {late.points} points{told}."


def gap_words(story: Story) -> str:
    """How far the plan is proven."""
    gap = story.answer.get("gap")
    if not gap:
        return "No better plan exists."
    if gap["aim"] == "points":
        return f"Best found; no plan has more than {gap['bound']} points."
    if gap["aim"] == "finish":
        return "No plan has more points; a sooner finish is not ruled out."
    return "Best found; whether more of the musts can be done is not proven."


def missing_words(story: Story) -> list[tuple[str, str, str]]:
    """The musts that are left out: code, title and the reason."""
    why = {row["activity"]: row["why"] for row in story.answer.get("left_out", ())}
    tasks: dict[str, Any] = story.beside.get("tasks", {})
    return [
        (
            name,
            tasks.get(name, {}).get("title", "handling of the teardown"),
            story.beside.get("never", {}).get(name) or why.get(name, ""),
        )
        for name in story.missing
    ]


def of_hundred(chance: float) -> str:
    """A chance as people say it; never certain, for nothing is."""
    share = round(100 * chance)
    if chance > 0 and share == 0:
        return "less than 1 in 100"
    return f"{min(share, 99)} in 100"


def chance_words(sure: dict[str, Any] | None) -> str:
    """How sure the plan is; "" where no chances were reckoned."""
    return f"{of_hundred(sure['plans'][0]['chance'])} that it holds." if sure else ""


def by_plan(can_start: tuple[Startable, ...], story: Story) -> tuple[Startable, ...]:
    """What can be started, in the plan's order; what it does without comes last."""
    starts = {
        task: at for task, at in story.starts.items() if story.way_of[task] == FINAL
    }
    last = datetime.max
    return tuple(sorted(can_start, key=lambda one: starts.get(one.task, last)))


def _musts(story: Story) -> str:
    count = len(story.missing)
    return f"{count} must{'s' * (count != 1)}"
