"""How each goal stands in the kept plan: final, Plan B or given up, and until when."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from fabshop.reckoning.facts import Facts
from fabshop.reckoning.goal import Goal, goals
from fabshop.reckoning.planning.story import Story
from fabshop.reckoning.planning.way import FINAL, LEFT, plan_b_id
from fabshop.reckoning.triage import Worth, worths

Data = dict[str, Any]


@dataclass(frozen=True)
class Switch:
    """A Plan B of a goal, and the last moment at which it can still be begun.

    None where nobody knows; `is_too_late` where it has passed.
    """

    title: str
    pk: int
    points: int
    minutes: int
    last_at: datetime | None
    is_too_late: bool
    chosen: bool
    takes: tuple[str, ...]


@dataclass(frozen=True)
class Stand:
    """One goal: what it is worth, what the plan does with it, what was chosen.

    `way` is that of the plan ("final", "plan-b", "left" or "" where it is left out);
    `price` the points that having it would cost, None where it is not known or it is
    had, `cannot_be_had` where no hours hold it with every must.
    """

    worth: Worth
    way: str
    chosen: str
    switches: tuple[Switch, ...]
    price: int | None
    cannot_be_had: bool
    why: str
    begins: datetime | None

    @property
    def is_final(self) -> bool:
        return self.way == FINAL

    @property
    def is_plan_b(self) -> bool:
        return self.way.startswith("plan-b")

    @property
    def stands_at(self) -> str:
        if self.is_final:
            return "final"
        return "Plan B" if self.is_plan_b else "given up"

    @property
    def last_at(self) -> datetime | None:
        """The last moment to switch to the first Plan B still possible."""
        left = [one.last_at for one in self.switches if not one.is_too_late]
        return next((at for at in left if at is not None), None)


def stands(facts: Facts, story: Story | None) -> tuple[Stand, ...]:
    """Every goal, those that bring most for an hour first.

    `facts` are the whole ones: each goal with all its ways. Moments are those of the
    plan where there is one: a Plan B must begin so as to be done by when the plan must
    be through with the goal. Without, they are worked back from pack-out alone.
    """
    alone: dict[tuple[str, str], Goal] = {(g.task, g.plan_b): g for g in goals(facts)}
    return tuple(_stand(worth, facts, story, alone) for worth in worths(facts))


def _stand(
    worth: Worth,
    facts: Facts,
    story: Story | None,
    alone: Mapping[tuple[str, str], Goal],
) -> Stand:
    chosen = next((b for b in worth.plans_b if b.chosen), None)
    switches = tuple(
        _switch(worth, number, facts, story, alone)
        for number in range(len(worth.plans_b))
    )
    price = story.beside.get("prices", {}).get(worth.task) if story else None
    way = "final"
    if story is not None:
        way = story.way_of.get(worth.task, LEFT if chosen is None else FINAL)
    if chosen is not None:
        # A chosen Plan B is the task's only way, and stands in the plan as that.
        way = plan_b_id(worth.plans_b.index(chosen))
    told = "plan-b" if chosen else ("must" if worth.wished else "")
    return Stand(
        worth=worth,
        way=way,
        chosen=told,
        switches=switches,
        price=_points_lost(price, worth),
        cannot_be_had=price is not None and price["points"] is None,
        why=_why(worth, story),
        begins=story.starts.get(worth.task) if story else None,
    )


def _points_lost(price: Data | None, worth: Worth) -> int | None:
    if price is None or price["points"] is None:
        return None
    return max(0, int(price["best"]) - int(price["points"]))


def _switch(
    worth: Worth,
    number: int,
    facts: Facts,
    story: Story | None,
    alone: Mapping[tuple[str, str], Goal],
) -> Switch:
    plan_b = worth.plans_b[number]
    known = alone.get((worth.task, plan_b.title))
    last = known.last_switch if known else None
    late = known.is_too_late if known else False
    rows = story and [row for row in story.rows if row.task == worth.task]
    if story is not None and rows:
        ends = rows[-1].latest_finish
        last = story.bench.latest_start(ends, plan_b.minutes)
        late = last is None or last < facts.now
    return Switch(
        title=plan_b.title,
        pk=plan_b.pk,
        points=plan_b.points,
        minutes=plan_b.minutes,
        last_at=last,
        is_too_late=late,
        chosen=plan_b.chosen,
        takes=plan_b.takes,
    )


def _why(worth: Worth, story: Story | None) -> str:
    if worth.cannot:
        return f"cannot: {worth.cannot}"
    if story is None or story.way_of.get(worth.task) == FINAL:
        return ""
    never = story.beside.get("never", {}).get(worth.task)
    return f"cannot: {never}" if never else ""
