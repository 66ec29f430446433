"""Says what has changed in the shop since its plan was made, and by how much."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop.reckoning.facts import Facts
from fabshop.reckoning.window import Bench
from fabshop.snapshot import digest
from fabshop.snapshot.kept_plan import KeptPlan
from fabshop.snapshot.schedule import stands_on
from fabshop.units import show_minutes

_MOST_NAMED = 5


@dataclass(frozen=True)
class Drift:
    """`sentence` is "" while the plan stands; `behind` the bench minutes behind it.

    Behind counts what the plan had put before now and nobody has finished, less what
    was finished ahead of it.
    """

    has_changed: bool
    sentence: str
    behind_minutes: int
    in_hand_minutes: int | None


def plan_drift(kept: KeptPlan, facts: Facts) -> Drift:
    """What differs, by name, and what is behind; nothing is reckoned again."""
    story = kept.story
    behind = _behind(kept, facts)
    spare = story.in_hand_minutes
    left = None if spare is None else spare - behind
    said = []
    changed = digest(facts) != kept.plan.digest
    names = _changed(kept, facts) if changed else []
    if names:
        said.append(f"Changed since edition {kept.plan.edition}: {_named(names)}")
    if behind > 0 and left is not None:
        told = show_minutes(left) if left >= 0 else f"{show_minutes(-left)} too little"
        said.append(
            f"{show_minutes(behind)} behind the plan: in hand "
            f"{show_minutes(max(0, spare or 0))} becomes {told}"
        )
    elif behind < 0:
        said.append(f"{show_minutes(-behind)} ahead of the plan")
    return Drift(bool(names), ". ".join(said) + "." if said else "", behind, left)


def _behind(kept: KeptPlan, facts: Facts) -> int:
    behind = 0
    for row in kept.story.rows:
        if row.by or not row.task or not row.minutes:
            continue
        start, finish = kept.now_at(row.start), kept.now_at(row.finish)
        task = facts.task_by_id.get(row.task)
        is_done = task is None or task.is_finished
        if is_done and start >= facts.now:
            behind -= row.minutes
        elif not is_done and start < facts.now:
            spans = (*facts.past_windows, *facts.windows)
            passed = Bench(spans, start).minutes_until(min(facts.now, finish))
            behind += max(0, min(row.minutes, passed) - (task.logged if task else 0))
    return behind


def _changed(kept: KeptPlan, facts: Facts) -> list[str]:
    was, now = kept.plan.stands_on, stands_on(facts)
    names = [name for name in now if name in was and was[name] != now[name]]
    return names + [name for name in now if name not in was and _is_named(name)]


def _is_named(name: str) -> bool:
    # Hours of a day that has come and gone are no change.
    return not name.startswith("hours of ")


def _named(names: list[str]) -> str:
    told = ", ".join(names[:_MOST_NAMED])
    more = len(names) - _MOST_NAMED
    return f"{told} and {more} more" if more > 0 else told
