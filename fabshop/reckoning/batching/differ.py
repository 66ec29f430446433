"""What two answers to a teardown do differently, and what an answer destroys."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.facts import Facts
from fabshop.reckoning.readiness.shut import is_for_good


def destroyed(facts: Facts, answer: dict[str, Any]) -> tuple[str, ...]:
    """What the answer takes off that is bonded or welded: cut out, wants a new one."""
    return tuple(
        step["id"]
        for step in _steps(answer)
        if step["do"] == "remove"
        and (part := facts.component_by_id.get(step["id"])) is not None
        and is_for_good(part)
    )


def in_hand_minutes(answer: dict[str, Any]) -> int | None:
    """Worked minutes between the first start and its latest, of the plan answered.

    None where nothing can be done in time.
    """
    sessions = len(answer.get("sessions", ()))
    for choice in answer.get("choices", ()):
        minutes = choice.get("in_hand_minutes")
        if sessions and choice["sessions"] >= sessions and minutes is not None:
            return int(minutes)
    return None


def steps_that_differ(old: dict[str, Any], new: dict[str, Any]) -> str:
    """Which steps of the old answer are not those of the new: "steps 9 to 11 differ".

    Steps are numbered through all sessions. Steps alike at both ends are not named;
    "" where all are the same, at whatever times.
    """
    before = [(step["do"], step["id"]) for step in _steps(old)]
    after = [(step["do"], step["id"]) for step in _steps(new)]
    if before == after:
        return ""
    shared = min(len(before), len(after))
    first = next((n for n in range(shared) if before[n] != after[n]), shared)
    tail = 0
    while tail < shared - first and before[-1 - tail] == after[-1 - tail]:
        tail += 1
    last = len(before) - tail
    more = len(after) - len(before)
    if last <= first:
        what = f"{more} step{'s' * (more > 1)} more"
        return f"{what} before step {first + 1}" if tail else f"{what} at the end"
    if last == first + 1:
        return f"step {last} differs"
    return f"steps {first + 1} to {last} differ"


def _steps(answer: dict[str, Any]) -> list[dict[str, Any]]:
    return [step for session in answer["sessions"] for step in session["steps"]]
