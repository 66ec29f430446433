"""Bag labels of a teardown: one for each part that comes off with screws."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.shortcuts import get_object_or_404

from fabshop import words
from fabshop.paper.plan import code_of
from fabshop.paper.plan_row import steps_of
from fabshop.paper.sheet import Sheet
from fabshop.records.build import Component, Fastening
from fabshop.records.plan import Plan

ROWS, COLUMNS = 8, 3
# The locker as a letter, big enough to read through a bag.
LETTERS = {
    words.Locker.NONE: "dry",
    words.Locker.MEDIUM: "M",
    words.Locker.HIGH: "H",
    words.Locker.NYLON_NUT: "new nut",
}


@dataclass(frozen=True)
class Screws:
    """Some of one size in the bag, with the locker they go back with."""

    told: str
    letter: str


@dataclass(frozen=True)
class Label:
    """One bag: its number, or the step's where none is noted; `path` opens the step."""

    bag: str
    code: str
    name: str
    side: str
    screws: tuple[Screws, ...]
    step: int
    path: str


def bag_labels(pk: int) -> Sheet:
    """The labels of one plan, in the order in which its parts come off."""
    plan = get_object_or_404(Plan.objects.select_related("build"), pk=pk)
    labels = list(labels_of(plan))
    pages = [labels[at : at + ROWS * COLUMNS] for at in range(0, len(labels), 24)]
    return Sheet(
        name="bag-labels",
        title="Bag labels",
        template="paper/shelf/bag_labels.html",
        path=f"/plans/{plan.pk}/",
        code=code_of(plan),
        filename=f"{plan.build.slug}-bag-labels",
        subject=plan.build.name,
        made_at=plan.made_at,
        offset_minutes=plan.utc_offset_minutes,
        edition=plan.edition,
        digest=plan.digest,
        entries=plan.entries,
        context={"plan": plan, "pages": pages, "count": len(labels)},
    )


def labels_of(plan: Plan) -> Iterator[Label]:
    """A label for every part that comes off and has something to put into a bag."""
    steps = list(enumerate((step for _, step in steps_of(plan)), start=1))
    off = [(number, step["id"]) for number, step in steps if step["do"] == "remove"]
    parts = {
        part.code: part
        for part in Component.objects.filter(
            code__in=[code for _, code in off]
        ).prefetch_related("fastenings")
    }
    seen: set[str] = set()
    for number, code in off:
        part = parts.get(code)
        # Taken off in a second session it has its bag already.
        if part is None or code in seen:
            continue
        seen.add(code)
        fastenings = list(part.fastenings.all())
        if not fastenings:
            continue
        bags = list(dict.fromkeys(f.bag for f in fastenings if f.bag))
        yield Label(
            bag=bags[0] if bags else str(number),
            code=part.code,
            name=part.name,
            side=words.Side(part.side).label,
            screws=tuple(_screws(fastening) for fastening in fastenings),
            step=number,
            path=f"/plans/{plan.pk}/steps/{number}/",
        )


def _screws(fastening: Fastening) -> Screws:
    if not fastening.is_screw:
        letter = "new" if fastening.is_single_use else ""
        return Screws(f"{fastening.count} {fastening.size}", letter)
    letter = LETTERS[words.Locker(fastening.locker)]
    return Screws(f"{fastening.count}×{fastening.size}", letter)
