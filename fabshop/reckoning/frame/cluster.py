"""Finds tubes that run into one another at a node without one being coped onto it."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import combinations
from math import atan2, cos, degrees, radians, sin
from typing import Protocol

from fabshop.reckoning.frame.axis import Axis
from fabshop.reckoning.frame.facts import EndFact, FrameFacts
from fabshop.reckoning.frame.landing import Coped, Landing, skin_reach_mm
from fabshop.reckoning.frame.vector import across, between_deg, dot


class End(Protocol):
    """As much of a reckoned end as is looked at here."""

    @property
    def fact(self) -> EndFact: ...
    @property
    def node(self) -> str: ...
    @property
    def landed(self) -> Landing | None: ...
    @property
    def cope(self) -> Coped | None: ...
    @property
    def main_mm(self) -> float: ...


def overlaps(
    facts: FrameFacts,
    axes: dict[str, Axis],
    ends: Mapping[str, tuple[End, End]],
) -> dict[str, tuple[str, ...]]:
    """By mark, what is not computed where several tubes come into one point.

    Each end is coped onto the one tube named for it. Two that land beside each other
    and also run into each other there are named; their line on each other is not
    computed, and the order in which they are fitted is for a person to choose.
    """
    at_node: dict[str, list[tuple[str, End]]] = {}
    for mark, pair in ends.items():
        for end in pair:
            if end.landed and end.cope:
                at_node.setdefault(end.node, []).append((mark, end))
    found: dict[str, list[str]] = {}
    for node, here in at_node.items():
        for (one, first), (other, second) in combinations(here, 2):
            if one == other or other == first.fact.onto or one == second.fact.onto:
                continue
            if _meet(facts, one, first, other, second):
                note = (
                    f"{one} and {other} run into each other at {node}: each is coped "
                    f"onto {first.fact.onto} alone"
                    if first.fact.onto == second.fact.onto
                    else f"{one} and {other} run into each other at {node}: "
                    f"{one} is coped onto {first.fact.onto} alone, "
                    f"{other} onto {second.fact.onto}"
                )
                note += ", and what the second must lose is not computed."
                found.setdefault(one, []).append(note)
                found.setdefault(other, []).append(note)
    return {mark: tuple(notes) for mark, notes in found.items()}


def _meet(facts: FrameFacts, one: str, first: End, other: str, second: End) -> bool:
    """Does the line between them, on the first's side, meet before the main is left?"""
    a, b = first.landed, second.landed
    if a is None or b is None:
        return False
    between = between_deg(a.along, b.along)
    if between > 179.9:
        return False
    radius = facts.tube_by_mark[one].od_mm / 2
    beside = facts.tube_by_mark[other].od_mm / 2
    if between < 0.1:
        return True
    angle = radians(between)
    crotch = (beside + radius * cos(angle)) / sin(angle)
    side = across(b.along, a.along)
    at = degrees(atan2(dot(side, a.towards_90), dot(side, a.acute)))
    od = facts.tube_by_mark[one].od_mm
    return crotch > skin_reach_mm(a, at, od, first.main_mm) + 1e-6
