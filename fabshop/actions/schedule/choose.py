"""One goal steered: must have it, Plan B, given up, or left to the plan again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from fabshop.actions.schedule.ask import ask_plan
from fabshop.actions.schedule.wish import wish
from fabshop.actions.task import choose_fallback, give_up_task, reopen_task
from fabshop.errors import BadInput, ShopError
from fabshop.reckoning.triage import promised_twice
from fabshop.records.packout import Spare
from fabshop.records.schedule import ShopPlan
from fabshop.records.shop import Person
from fabshop.records.task import Fallback, Task
from fabshop.snapshot import take_whole

Choice = Literal["must", "plan-b", "give-up", "again", "free"]


@dataclass(frozen=True)
class Chosen:
    """What was chosen in words, the plan that came of it, and what it breaks.

    `plan` is None where none could be made; `breaks` then says why.
    """

    told: str
    plan: ShopPlan | None
    breaks: tuple[str, ...]


def choose_goal(
    *,
    by: Person,
    task: Task,
    choice: Choice,
    now: datetime,
    fallback: Fallback | None = None,
    confirm: bool = False,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Chosen:
    """Decide on a goal and plan again at once; every choice can be taken back.

    A Plan B that does not fit the hours any more asks first. The choice stands even
    where no plan can be made of it.
    """
    told = _decided(by, task, choice, now, fallback, confirm, at, client_id)
    breaks: list[str] = []
    plan = None
    try:
        plan = ask_plan(by=by, now=now, why=f"{task.code} {told}", quick=True)
    except ShopError as error:
        breaks.append(error.message)
    breaks += [
        f"{clash.spare} is promised to {' and '.join(clash.tasks)}: there is "
        + ("one piece" if clash.pieces == 1 else f"{clash.pieces} pieces")
        for clash in promised_twice(take_whole(now), pieces(), chosen_only=True)
        if task.code in clash.tasks
    ]
    return Chosen(told, plan, tuple(breaks))


def pieces() -> dict[str, int]:
    """How many pieces there are of each spare."""
    live = Spare.objects.filter(retired_at=None)
    return dict(live.values_list("code", "quantity"))


def _decided(
    by: Person,
    task: Task,
    choice: Choice,
    now: datetime,
    fallback: Fallback | None,
    confirm: bool,
    at: datetime | None,
    client_id: str | None,
) -> str:
    if choice == "must":
        wish(by=by, task=task, now=now, at=at, client_id=client_id)
        return "must be had"
    if choice == "give-up":
        give_up_task(by=by, task=task, now=now, at=at, client_id=client_id)
        return "is given up"
    if choice == "again":
        reopen_task(by=by, task=task, now=now, at=at, client_id=client_id)
        return "is wanted again"
    if choice == "plan-b":
        if fallback is None or fallback.task_id != task.pk:
            raise BadInput(f"Which Plan B of {task.code}?", field="fallback")
        choose_fallback(
            by=by,
            fallback=fallback,
            confirm=confirm,
            now=now,
            at=at,
            client_id=client_id,
        )
        if task.wished_at:
            wish(by=by, task=task, wished=False, now=now, at=at)
        return f"goes by Plan B, {fallback.title}"
    chosen = task.fallbacks.filter(chosen_at__isnull=False).first()
    if chosen is not None:
        choose_fallback(
            by=by, fallback=chosen, chosen=False, now=now, at=at, client_id=client_id
        )
    if task.wished_at:
        wish(by=by, task=task, wished=False, now=now, at=at)
    return "is left to the plan"
