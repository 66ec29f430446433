"""The rack: what lies there, what a length could be cut from, and one piece."""

from __future__ import annotations

from collections.abc import Iterable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from fabshop import clock, units, words
from fabshop.actions.shop import the_shop
from fabshop.actions.stock.locked import is_for_a_frame
from fabshop.errors import ShopError
from fabshop.reckoning.facts import PieceFact
from fabshop.reckoning.stock import candidates, mass_mg, too_short
from fabshop.records.shop import Shop
from fabshop.records.stock import Cut, Piece
from fabshop.records.task import Task
from fabshop.snapshot.stock import piece_facts
from fabshop.web.gate import signed_in
from fabshop.web.photo import photos_of
from fabshop.web.respond import Context, respond

MOST_CUTS = 100
Kind = tuple[str, str]


def kind_of(piece: PieceFact) -> str:
    """What may stand in for what: one material, one form, one section."""
    return f"{piece.material}|{piece.form}|{piece.section}"


def kind_words(piece: PieceFact) -> str:
    return f"{piece.name} {piece.form.label} {piece.section} mm"


@signed_in
def rack(request: HttpRequest) -> HttpResponse:
    """By material or by place, drops first; and which pieces a length fits."""
    pieces = piece_facts(Piece.objects.on_the_rack())
    by_place = request.GET.get("by") == "place"
    context: Context = {
        "now": clock.now(),
        "groups": _groups(pieces, by_place=by_place),
        "by_place": by_place,
        "count": len(pieces),
        "drops": sum(piece.is_drop for piece in pieces),
        "kinds": _kinds(pieces),
        "tasks": _tasks(),
        "to_measure": [piece for piece in pieces if piece.left_um < 0],
    }
    status = 200
    if request.GET.get("need", "").strip():
        try:
            context |= _found(request, pieces)
        except ShopError as error:
            status = error.status
            context |= {"error": error, "typed": request.GET}
    # The phone asks as the length is typed: only the candidates come back.
    found = "stock/_found.html"
    return respond(request, "stock/rack.html", found, context, status=status)


def _found(request: HttpRequest, pieces: Iterable[PieceFact]) -> Context:
    typed = request.GET["need"].replace("\0", "")
    sizes = units.parse_sizes_um(typed, count=1, field="need", label="Length")
    need_um = sizes[0] if sizes else 0
    kind = request.GET.get("kind", "")
    of_kind = [
        piece for piece in pieces if kind_of(piece) == kind and not piece.is_flat
    ]
    task = Task.objects.filter(
        code=request.GET.get("for", "").replace("\0", "")
    ).first()
    for_frame = is_for_a_frame(task)
    kerf_um = (the_shop() or Shop()).kerf_um
    found = candidates(
        of_kind,
        need_um,
        kerf_um=kerf_um,
        tasks=(task.code,) if task else (),
        for_frame=for_frame,
    )
    return {
        "need": typed,
        "need_um": need_um,
        "kind": kind,
        "for_task": task,
        "for_frame": for_frame,
        "found": found,
        "short": too_short(of_kind, need_um, kerf_um=kerf_um),
    }


def _groups(
    pieces: Iterable[PieceFact], *, by_place: bool
) -> list[tuple[str, list[PieceFact]]]:
    groups: dict[str, list[PieceFact]] = {}
    for piece in pieces:
        name = (piece.place or "No place") if by_place else kind_words(piece)
        groups.setdefault(name, []).append(piece)
    return [
        (name, sorted(of, key=lambda p: (not p.is_drop, p.left_um, p.id)))
        for name, of in sorted(groups.items())
    ]


def _kinds(pieces: Iterable[PieceFact]) -> list[Kind]:
    """What lengths are cut of, that of which there is most first."""
    seen: dict[str, tuple[str, int]] = {}
    for piece in pieces:
        if not piece.is_flat:
            name, count = seen.get(kind_of(piece), (kind_words(piece), 0))
            seen[kind_of(piece)] = name, count + 1
    ordered = sorted(seen.items(), key=lambda one: (-one[1][1], one[1][0]))
    return [(kind, name) for kind, (name, _) in ordered]


def _tasks() -> list[tuple[str, str]]:
    """The open tasks that a length could be for: those that want or hold some."""
    of_rack = Task.objects.unfinished().filter(cut_wishes__given_up_at=None)
    wanting = of_rack.filter(cut_wishes__isnull=False).distinct()
    return [("", "no task")] + [(task.code, str(task)) for task in wanting]


@signed_in
def piece(request: HttpRequest, code: str) -> HttpResponse:
    row = get_object_or_404(
        Piece.objects.select_related("material", "drop_of"), code=code
    )
    return respond(request, "stock/piece.html", "", piece_context(row))


def piece_context(row: Piece) -> Context:
    """What the page of a piece shows, whichever of its forms was refused."""
    (fact,) = piece_facts(Piece.objects.filter(pk=row.pk))
    cuts = (
        Cut.objects.filter(piece=row)
        .select_related("task", "wish", "mark", "made", "person")
        .order_by("-at", "-pk")[:MOST_CUTS]
    )
    holders = row.reservations.filter(released_at=None).select_related("task")
    return {
        "now": clock.now(),
        "piece": row,
        "fact": fact,
        "mass_mg": mass_mg(fact),
        "cuts": cuts,
        "counts": row.counts.select_related("person").order_by("-at", "-pk")[:20],
        "holders": holders,
        "photos": photos_of(piece=row),
        "drops": row.drops.order_by("code"),
        "open_tasks": [
            (task.code, str(task))
            for task in Task.objects.unfinished().order_by("code")
        ],
        "forms": words.PieceForm.choices(),
    }
