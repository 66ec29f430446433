"""What is on over a hold that is not passed, and must come off again for it."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop import words
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.readiness.hold import binds, kept_open
from fabshop.records.log import LogEntry


@dataclass(frozen=True)
class Again:
    """`component` is on and must come off again for `hold`; `why` is a sentence."""

    component: str
    hold: str
    why: str


def must_come_off(facts: Facts, build: str) -> tuple[Again, ...]:
    """What was put on for now over an open hold, and what lies over a failed one.

    In order of code, each component once; one query beside the facts.
    """
    found = {}
    for hold in facts.tasks:
        if hold.build == build and hold.hold is words.HoldVerdict.FAILED:
            for name in kept_open(hold, facts):
                if binds(hold) and _is_on(name, facts):
                    found[name] = Again(name, hold.id, f"{hold.id} failed.")
    entries = LogEntry.objects.filter(
        kind=words.EntryKind.PUT_ON,
        component__build__slug=build,
        component__is_on=True,
        before__has_key="for_now",
        reversed_by=None,
    )
    for name, text, before in entries.values_list("component__code", "text", "before"):
        for hold_name in before["for_now"]:
            hold_now = facts.task_by_id.get(hold_name)
            if hold_now is not None and binds(hold_now) and _is_on(name, facts):
                found.setdefault(name, Again(name, hold_name, text))
    return tuple(found[name] for name in sorted(found))


def _is_on(name: str, facts: Facts) -> bool:
    component = facts.component_by_id.get(name)
    return component is not None and component.is_on
