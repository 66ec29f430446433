"""Says whether the shop has changed since a plan was made, and what that does."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from fabshop import words
from fabshop.actions.plan.ask import batch_of, reckoned, steps_left
from fabshop.actions.plan.tick import is_done
from fabshop.errors import ShopError
from fabshop.reckoning.batching import in_hand_minutes, steps_that_differ
from fabshop.reckoning.facts import Facts
from fabshop.records.plan import Plan
from fabshop.snapshot import digest, plan_clock, take


@dataclass(frozen=True)
class Change:
    """`sentence` is "" while the plan still stands; `was`, `now_` are minutes in hand.

    Without `looked_into` it is only known that something has changed.
    """

    has_changed: bool
    sentence: str = ""
    looked_into: bool = False
    was_in_hand: int | None = None
    now_in_hand: int | None = None


def plan_change(
    *, plan: Plan, now: datetime, facts: Facts | None = None, look_into: bool = False
) -> Change:
    """Compare the plan with the shop as it is; `look_into` reckons it again.

    The fingerprint alone is quick; asking again takes about a second and says which
    steps differ and what it did to the time in hand. Nothing is written. `facts` are
    those of `now`, where they are at hand already.
    """
    facts = facts or take(now)
    if digest(facts, plan.build.slug, plan.asked["tasks"]) == plan.digest:
        return Change(has_changed=False)
    name = f"edition {plan.edition}" if plan.edition else "this plan was asked"
    opening = f"The shop has changed since {name}"
    if not look_into:
        return Change(has_changed=True, sentence=f"{opening}.")
    steps = plan.steps.select_related("task", "component").prefetch_related("ticks")
    done = [step for step in steps if is_done(step)]
    asked = plan.asked
    begin = asked["begin"]
    clock = plan_clock(now)
    try:
        answer = reckoned(
            batch_of(
                facts,
                plan.build,
                tasks=tuple(asked["tasks"]),
                dates=asked["dates"],
                wait_for=asked["wait_for"],
                max_sessions=asked["max_sessions"],
                prefer=asked["prefer"],
                begin=clock.to_plan(datetime.fromisoformat(begin)) if begin else None,
            ),
            steps_left(plan),
        )
    except ShopError as refusal:
        return Change(
            has_changed=True, sentence=f"{opening}: {refusal.message}", looked_into=True
        )
    ticked = [{"do": step.does, "id": _name(step)} for step in done]
    differ = steps_that_differ(plan.answer, _with(ticked, answer))
    was, now_ = in_hand_minutes(plan.answer), in_hand_minutes(answer)
    what = differ or "the steps stay, their times move"
    if dropped := _dropped(plan.answer, answer):
        what += f"; {' '.join(dropped)} can no longer be done in time"
    return Change(
        has_changed=True,
        sentence=f"{opening}: {what}.",
        looked_into=True,
        was_in_hand=was,
        now_in_hand=now_,
    )


def _dropped(was: dict[str, Any], now_: dict[str, Any]) -> list[str]:
    """What only the new answer leaves out; without it, more time is in hand."""
    already = {row["task"] for row in was.get("left_out", ())}
    return [
        row["task"] for row in now_.get("left_out", ()) if row["task"] not in already
    ]


def _name(step: Any) -> str:
    thing = step.task if step.does == words.StepDo.TASK else step.component
    return str(thing.code)


def _with(ticked: list[dict[str, Any]], answer: dict[str, Any]) -> dict[str, Any]:
    """The new answer with the steps already done before its own."""
    if not answer.get("sessions"):
        return {"sessions": [{"steps": ticked}]}
    first, *others = answer["sessions"]
    return {"sessions": [{"steps": [*ticked, *first["steps"]]}, *others]}
