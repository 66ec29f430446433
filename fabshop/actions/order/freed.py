"""What a parcel frees: which tasks have their parts now, and what others still want."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fabshop import words
from fabshop.reckoning.readiness import TaskReady


@dataclass(frozen=True)
class Outcome:
    """Codes of the tasks whose parts are complete, and a sentence for each touched."""

    freed: tuple[str, ...]
    sentences: tuple[str, ...]


def outcome(
    before: Mapping[str, TaskReady],
    after: Mapping[str, TaskReady],
    lines: set[str],
    titles: Mapping[str, str],
) -> Outcome:
    """Compare how tasks stood `before` and `after` some `lines` were counted."""
    freed, sentences = [], []
    for task, ready in sorted(before.items()):
        if not lines.intersection(_wanted(ready)) or task not in after:
            continue
        name = f"{task} {titles[task]}"
        if still := _wanted(after[task]):
            orders = dict.fromkeys(line.partition("/")[0] for line in still)
            sentences.append(f"{name} still wants {', '.join(orders)}.")
            continue
        freed.append(task)
        rest = _still(after[task])
        sentences.append(f"Parts complete for {name}" + (f"; {rest}." if rest else "."))
    return Outcome(tuple(freed), tuple(sentences))


def _wanted(ready: TaskReady) -> list[str]:
    return [
        line
        for reason in ready.reasons
        if reason.why is words.Why.WANTS_PARTS
        for line in reason.lines
    ]


def _still(ready: TaskReady) -> str:
    """What else is in the way, in a few words: still after W46, shut in."""
    others: dict[str, None] = {}
    afters = [
        task
        for reason in ready.reasons
        if reason.why is words.Why.AFTER_ANOTHER
        for task in reason.tasks
    ]
    if afters:
        others["after " + " ".join(dict.fromkeys(afters))] = None
    for reason in ready.reasons:
        if reason.why not in (words.Why.AFTER_ANOTHER, words.Why.OUT_OF_HOURS):
            others[reason.why.label] = None
    return "still " + ", ".join(others) if others else ""
