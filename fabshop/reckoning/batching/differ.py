"""What two answers to a teardown do differently, and what an answer destroys."""

from __future__ import annotations

from difflib import SequenceMatcher
from typing import Any

from fabshop.reckoning.facts import Facts
from fabshop.reckoning.readiness.shut import is_for_good

_BETWEEN = 2
"""So few steps alike between two stretches that differ are told with them."""


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

    Steps are numbered through all sessions. What is alike and in the same order on
    both sides is not named, but for a step or two between others that differ; "" where
    all are the same, at whatever times.
    """
    before = [(step["do"], step["id"]) for step in _steps(old)]
    after = [(step["do"], step["id"]) for step in _steps(new)]
    changed, more = [], []
    for first, last, added in _stretches(before, after):
        if first < last:
            one = last == first + 1
            changed.append(f"{last}" if one else f"{first + 1} to {last}")
        else:
            what = f"{added} step{'s' * (added > 1)} more"
            where = f"before step {first + 1}" if first < len(before) else "at the end"
            more.append(f"{what} {where}")
    if changed:
        one = len(changed) == 1 and changed[0].isdecimal()
        named = " and ".join(filter(None, (", ".join(changed[:-1]), changed[-1])))
        more.insert(0, f"step {named} differs" if one else f"steps {named} differ")
    return "; ".join(more)


def _stretches(
    before: list[tuple[str, str]], after: list[tuple[str, str]]
) -> list[tuple[int, int, int]]:
    """Where they differ: from and to in the old, and how many come in its place."""
    found: list[tuple[int, int, int]] = []
    alike = SequenceMatcher(None, before, after, autojunk=False)
    for tag, first, last, at, to in alike.get_opcodes():
        if tag == "equal":
            continue
        if found and first - found[-1][1] <= _BETWEEN:
            start, end, added = found[-1]
            found[-1] = (start, last, added + first - end + to - at)
        else:
            found.append((first, last, to - at))
    return found


def _steps(answer: dict[str, Any]) -> list[dict[str, Any]]:
    return [step for session in answer["sessions"] for step in session["steps"]]
