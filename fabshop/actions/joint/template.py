"""The shop's own checklists and colour tables: each change makes the next version."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction

from fabshop import words
from fabshop.actions.log.entry import write_entry
from fabshop.actions.shop import require
from fabshop.actions.typed import number, one_line, some_line
from fabshop.errors import BadInput, Clash, FieldError
from fabshop.records.joint import ColourRow, ColourTable, PrepStep, PrepTemplate
from fabshop.records.shop import Person, Shop
from fabshop.reference.caution import cautions
from fabshop.reference.prep import prep_rows

MOST_STEPS = 40
MOST_CLEAN_MINUTES = 7 * 24 * 60
# A weld of these shows by its colour how well the gas covered it.
_BY_COLOUR = (words.Metal.TITANIUM, words.Metal.STAINLESS)


def template_seen(
    metal: words.Metal | str, now: datetime
) -> tuple[PrepTemplate, list[PrepStep]]:
    """The checklist of this metal as it is now; nothing is written by looking at it.

    Before the first use it is the reference's own, not yet kept.
    """
    metal = words.Metal(metal)
    latest = PrepTemplate.objects.filter(metal=metal).first()
    if latest is not None:
        return latest, list(latest.steps.all())
    return _references_own(metal, now)


def template_of(metal: words.Metal | str, now: datetime) -> PrepTemplate:
    """The checklist of this metal to begin on; the reference's own is kept by that."""
    template, steps = template_seen(metal, now)
    if template.pk is not None:
        return template
    try:
        with transaction.atomic():
            template.save()
            PrepStep.objects.bulk_create(steps)
    except IntegrityError:
        # Two asked for it at once; the other one's is the same.
        return PrepTemplate.objects.get(metal=template.metal, version=1)
    return template


def _references_own(
    metal: words.Metal, now: datetime
) -> tuple[PrepTemplate, list[PrepStep]]:
    template = PrepTemplate(
        metal=metal, version=1, wants_colour=metal in _BY_COLOUR, made_at=now
    )
    return template, [
        PrepStep(
            template=template,
            number=row.number,
            text=row.text,
            stage=row.stage,
            kind=row.kind,
            does=row.does,
            is_stop=row.is_stop,
            unit=row.unit,
            caution=row.caution,
            source=row.source,
        )
        for row in prep_rows()[metal]
    ]


@transaction.atomic
def change_template(
    *,
    by: Person,
    metal: words.Metal | str,
    steps: Sequence[Mapping[str, Any]],
    now: datetime,
    wants_colour: bool = False,
    seen_version: int | None = None,
) -> PrepTemplate:
    """Make the next version of a metal's checklist; those begun keep theirs."""
    require(by, "own")
    latest = template_of(metal, now)
    if seen_version is not None and seen_version != latest.version:
        raise Clash(
            f"Version {latest.version} of this checklist was made meanwhile. "
            "Look at it; what you typed is kept.",
            code="has-moved",
        )
    good = _steps(steps)
    if wants_colour == latest.wants_colour and good == _kept(latest):
        return latest
    template = PrepTemplate.objects.create(
        metal=latest.metal,
        version=latest.version + 1,
        wants_colour=wants_colour,
        made_at=now,
        person=by,
    )
    PrepStep.objects.bulk_create(
        PrepStep(template=template, number=place, **step)
        for place, step in enumerate(good, start=1)
    )
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        text=f"Checklist of {latest.metal}: version {template.version}.",
    )
    return template


@transaction.atomic
def set_colour_table(
    *,
    by: Person,
    metal: words.Metal | str,
    name: str,
    source: str,
    verdicts: Mapping[words.Colour | str, words.Verdict | str],
    now: datetime,
) -> ColourTable:
    """Judge a metal's colours by the shop's own table from now on."""
    require(by, "own")
    errors = []
    good: dict[words.Colour, words.Verdict] = {}
    for colour, verdict in verdicts.items():
        try:
            good[words.Colour(colour)] = words.Verdict(verdict)
        except ValueError:
            seen = f"{str(colour)[:20]}: {str(verdict)[:20]}"
            errors.append(
                FieldError("verdicts", f"“{seen}” is no verdict of a colour.")
            )
    if errors:
        raise BadInput(errors[0].message, field="verdicts", errors=tuple(errors))
    if not good:
        raise BadInput("Judge at least one colour.", field="verdicts")
    table = ColourTable.objects.create(
        metal=words.Metal(metal),
        name=some_line(name, field="name", label="Name", most=80),
        source=some_line(source, field="source", label="Where it is from", most=300),
        made_at=now,
        person=by,
    )
    ColourRow.objects.bulk_create(
        ColourRow(table=table, colour=colour, verdict=verdict)
        for colour, verdict in good.items()
    )
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        text=f"Colours of {table.metal} are judged by {table.name}.",
    )
    return table


@transaction.atomic
def set_prep_hours(*, by: Person, clean_minutes: int, now: datetime) -> Shop:
    """Say how long a cleaned joint counts as clean."""
    require(by, "own")
    shop = Shop.objects.select_for_update().get()
    number(
        clean_minutes,
        field="clean_minutes",
        label="Clean for",
        most=MOST_CLEAN_MINUTES,
    )
    shop.clean_minutes = clean_minutes
    shop.save(update_fields=["clean_minutes"])
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        text=f"A cleaned joint counts as clean for {clean_minutes} min.",
    )
    return shop


def _steps(steps: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    if not steps:
        raise BadInput("A checklist has at least one step.", field="steps")
    if len(steps) > MOST_STEPS:
        raise BadInput(
            f"{len(steps)} steps; a checklist that is followed has at most "
            f"{MOST_STEPS}.",
            field="steps",
        )
    return [_step(row, place) for place, row in enumerate(steps, start=1)]


def _step(row: Mapping[str, Any], place: int) -> dict[str, Any]:
    label = f"Step {place}"
    try:
        stage = words.PrepStage(row.get("stage", words.PrepStage.TACK))
        kind = words.PrepKind(row.get("kind", words.PrepKind.TICK))
        does = words.PrepDoes(row.get("does", words.PrepDoes.NOTHING))
    except ValueError as fault:
        raise BadInput(f"{label}: {fault}.", field="steps") from None
    minutes = row.get("minutes")
    if minutes is not None and kind != words.PrepKind.MINUTES:
        raise BadInput(f"{label}: only a start mark has minutes.", field="steps")
    if minutes is not None:
        number(minutes, field="steps", label=f"{label}, minutes", most=1000)
    caution = row.get("caution", "")
    if caution and caution not in cautions():
        raise BadInput(f"{label}: there is no caution “{caution[:20]}”.", field="steps")
    source = one_line(
        row.get("source", ""), field="steps", label=f"{label}, source", most=300
    )
    return {
        "text": some_line(row.get("text", ""), field="steps", label=label, most=200),
        "stage": stage,
        "kind": kind,
        "does": does,
        "is_stop": bool(row.get("is_stop")),
        "minutes": minutes,
        "unit": one_line(
            row.get("unit", ""), field="steps", label=f"{label}, unit", most=12
        ),
        "caution": caution,
        "source": source or "own practice",
    }


def _kept(template: PrepTemplate) -> list[dict[str, Any]]:
    return list(
        template.steps.values(
            *("text", "stage", "kind", "does", "is_stop"),
            *("minutes", "unit", "caution", "source"),
        )
    )
