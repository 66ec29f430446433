"""Spares and breakages, as the pit's cards need them."""

from __future__ import annotations

from collections import Counter

from fabshop import words
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.pit import PitCard, SpareFact, pit_card
from fabshop.records.log import LogEntry
from fabshop.records.packout import Spare


def spare_facts() -> tuple[SpareFact, ...]:
    """The spares that are kept, in two queries."""
    spares = Spare.objects.filter(retired_at=None).prefetch_related("fits__component")
    return tuple(
        SpareFact(
            id=spare.code,
            title=spare.title,
            quantity=spare.quantity,
            place=spare.place,
            fits=tuple(fit.component.code for fit in spare.fits.all()),
        )
        for spare in spares
    )


def pit_cards(facts: Facts, build: str) -> list[PitCard]:
    """A card for each component of a build (its slug), in order of code."""
    broken = LogEntry.objects.filter(
        kind=words.EntryKind.BROKE, component__build__slug=build, reversed_by=None
    )
    times = Counter(broken.values_list("component__code", flat=True))
    spares = spare_facts()
    return [
        pit_card(part.id, facts, spares=spares, broke_before=times[part.id])
        for part in facts.components
        if part.build == build
    ]
