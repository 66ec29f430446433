"""Which shop cautions a sheet shows, by what its tasks do and use."""

from __future__ import annotations

from collections.abc import Iterable

from fabshop import words
from fabshop.reckoning.facts import TaskFact

DEFER = (
    "Local rules, the makers' data sheets and licensed practice come before this sheet."
)
# OSHA Technical Manual III:1 and EU-OSHA OSHwiki on epoxy resins: contact and
# allergic dermatitis, sensitisation.
RESIN = (
    "Resins and adhesives can cause lasting skin allergy: gloves, air, nothing on bare "
    "skin; pot life and cure by the maker's data sheet."
)
# UL FSRI and NFPA advice on lithium cells, as reposted by Clemson University.
CELLS = (
    "Lithium cells: unplug before tools come near, cover the terminals, nothing that "
    "burns beside them, no swollen or damaged pack."
)
# HSE, welding: asphyxiation hazards; 29 CFR 1910.133 on eye protection.
WELDING = (
    "Welding: eyes and skin covered, others screened from the arc; argon sinks and "
    "fills low or closed places without a smell: air before anybody leans in."
)
# Regulators' advice on spraying; common practice for dust.
PAINT = "Paint and dust: mask, air, no flame or spark; no sanding beside wet paint."


def cautions_for(tasks: Iterable[TaskFact], *, battery: bool = True) -> list[str]:
    """Short cautions for what these tasks do, the deferring sentence last."""
    tasks = list(tasks)
    told = [CELLS] if battery else []
    if _glues(tasks):
        told.append(RESIN)
    if _welds(tasks):
        told.append(WELDING)
    if _paints(tasks):
        told.append(PAINT)
    return [*told, DEFER]


def protection_for(tasks: Iterable[TaskFact]) -> list[str]:
    """What to have at hand against what these tasks can do."""
    tasks = list(tasks)
    told = ["eye protection"]
    if _glues(tasks) or _paints(tasks):
        told += ["gloves", "mask"]
    if _welds(tasks):
        told += ["welding mask and gauntlets"]
    return told


def _glues(tasks: list[TaskFact]) -> bool:
    return any(
        task.family == "composite"
        or any(stage.kind is words.StageKind.CURE for stage in task.stages)
        for task in tasks
    )


def _welds(tasks: list[TaskFact]) -> bool:
    return any(task.family == "welding" for task in tasks)


def _paints(tasks: list[TaskFact]) -> bool:
    """Titles are all that tells; a caution too many does no harm."""
    dusty = ("paint", "sand", "grind", "spray", "trim")
    return any(word in task.title.lower() for task in tasks for word in dusty)
