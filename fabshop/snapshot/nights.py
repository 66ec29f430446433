"""The runs of each machine: as the plan puts them, else as is over soonest."""

from __future__ import annotations

from datetime import datetime

from fabshop.reckoning.facts import Facts
from fabshop.reckoning.overnight import MachineNight, machine_nights
from fabshop.reckoning.planning.nights import planned_nights
from fabshop.snapshot.kept_plan import KeptPlan
from fabshop.snapshot.schedule import attended


def nights_of(
    facts: Facts, kept: KeptPlan | None, now: datetime
) -> tuple[MachineNight, ...]:
    """The one list that home, Overnights and the wall read, in two queries."""
    there = attended(facts, now)
    own = machine_nights(facts, there)
    if kept is None:
        return own
    return planned_nights(kept.story, kept.shift, facts, there, own)
