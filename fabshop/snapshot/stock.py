"""What lies on the rack, as facts: what is left of each piece and who holds it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from django.db.models import Count, F, Q, QuerySet, Sum
from django.db.models.functions import Coalesce

from fabshop import words
from fabshop.reckoning.facts import PieceFact, TaskFact, WishFact
from fabshop.records.stock import Cut, CutWish, Piece, Reservation
from fabshop.records.stock.piece import section_of

_FINISHED = (words.TaskState.DONE, words.TaskState.ACCEPTED, words.TaskState.GIVEN_UP)


def needed_pieces(tasks: Iterable[TaskFact]) -> tuple[PieceFact, ...]:
    """The pieces that unfinished tasks name, with what each has cut of them."""
    names = {
        need.name
        for task in tasks
        if not task.is_finished
        for need in task.needs
        if need.kind is words.NeedKind.RACK
    }
    parts = _parts(names)
    return tuple(
        replace(piece, parts=tuple(parts[piece.id]))
        for piece in piece_facts(Piece.objects.filter(code__in=names))
    )


def _parts(pieces: Iterable[str]) -> dict[str, list[tuple[str, int]]]:
    """What is cut of the length of each piece for each task."""
    rows = (
        Cut.objects.filter(
            piece__code__in=pieces,
            task__isnull=False,
            is_taken_back=False,
            along=words.CutAlong.LENGTH,
        )
        .order_by()
        .values_list("piece__code", "task__code")
        .annotate(Sum("part"))
    )
    found: dict[str, list[tuple[str, int]]] = defaultdict(list)
    for piece, task, part in rows.order_by("piece__code", "task__code"):
        found[piece].append((task, part))
    return found


def piece_facts(pieces: QuerySet[Piece]) -> tuple[PieceFact, ...]:
    """These pieces in order of code, in two queries whatever their number."""
    rows: list[Any] = list(
        Piece.objects.filter(pk__in=pieces.values("pk"))
        .with_left()
        .select_related("material", "drop_of")
    )
    held = _held([row.pk for row in rows])
    return tuple(
        PieceFact(
            id=row.code,
            form=words.PieceForm(row.form),
            material=row.material.code,
            left_um=row.left_um,
            name=row.material.name,
            family=row.material.family,
            density_mg_cm3=row.material.density_mg_cm3,
            od_um=row.od_um or 0,
            wall_um=row.wall_um or 0,
            thickness_um=row.thickness_um or 0,
            wide_um=row.wide_um or 0,
            section=row.section,
            heat_lot=row.heat_lot,
            has_heat=row.has_heat,
            grain=words.Grain(row.grain),
            place=row.place,
            is_drop=row.is_drop,
            drop_of=row.drop_of.code if row.drop_of else "",
            note=row.note,
            is_retired=row.retired_at is not None,
            held=tuple(held[row.pk]),
        )
        for row in rows
    )


def open_wishes() -> tuple[WishFact, ...]:
    """What is still to be cut, of tasks that are still to be done, in one query."""
    cut = Count("cuts", filter=Q(cuts__is_taken_back=False))
    rows = (
        CutWish.objects.filter(given_up_at=None)
        .exclude(task__state__in=_FINISHED)
        .select_related("material", "task")
        .annotate(n=cut)
    )
    return tuple(
        WishFact(
            id=row.code,
            title=row.title,
            material=row.material.code,
            material_name=row.material.name,
            form=words.PieceForm(row.form),
            section=section_of(row),
            length_um=row.length_um,
            wide_um=row.width_um or 0,
            count=max(0, row.quantity - row.n),
            cut=row.n,
            joints=tuple(row.joints.split()),
            task=row.task.code if row.task else "",
            for_frame=row.is_frame,
            grain=words.Grain(row.grain),
        )
        for row in rows
        if row.quantity > row.n
    )


def _held(pieces: list[int]) -> dict[int, list[tuple[str, int]]]:
    """What each task holds still: what it asked for less what it has cut of it."""
    cut = Sum(
        F("cuts__part") + F("cuts__kerf") + F("cuts__scrap"),
        filter=Q(cuts__is_taken_back=False),
    )
    rows = (
        Reservation.objects.filter(piece_id__in=pieces, released_at=None)
        .annotate(rest=F("length_um") - Coalesce(cut, 0))
        .order_by("at", "pk")
        .values_list("piece_id", "task__code", "rest")
    )
    found: dict[int, list[tuple[str, int]]] = defaultdict(list)
    for piece, task, rest in rows:
        if rest > 0:
            found[piece].append((task, rest))
    return found
