"""Where things lie: everything with a code and a place, and who saw it last."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from functools import reduce
from operator import and_
from typing import Any

from django.db.models import Q

from fabshop.records.build import Component
from fabshop.records.log import LogEntry
from fabshop.records.order import Order
from fabshop.records.packout import Spare
from fabshop.records.shelf import Consumable, ShelfMove, Tray
from fabshop.records.stock import Cut, Piece, PieceCount
from fabshop.words import ComponentState, Move

# Nobody walks through more; the page asks for another word then.
MOST = 60
# How far back it is looked up who had them in hand.
MOST_LINES = 2000


@dataclass(frozen=True, slots=True)
class Found:
    """One thing, what it is, where it lies, and who had it in hand last.

    `place` is empty where nobody said one; `seen_by` where nobody is known.
    """

    code: str
    name: str
    kind: str
    place: str
    seen_by: str = ""
    seen_at: datetime | None = None


def where(asked: str) -> tuple[Found, ...]:
    """What has each of these words in its code, name, note or place; best first.

    In as many queries whatever is found.
    """
    words = asked.replace("\0", "").split()[:6]
    if not words:
        return ()
    found = [*_components(words), *_pieces(words), *_shelf(words)]
    found += [*_spares(words), *_orders(words)]
    whole = " ".join(words).lower()
    found.sort(key=lambda one: (one.code.lower() != whole, not one.place))
    return tuple(found[:MOST])


def _has(words: Iterable[str], *fields: str) -> Q:
    """Every word stands in one of the fields."""
    return reduce(
        and_,
        (
            reduce(lambda a, b: a | b, (Q(**{f"{f}__icontains": w}) for f in fields))
            for w in words
        ),
    )


def _components(words: list[str]) -> list[Found]:
    rows = list(
        Component.objects.filter(_has(words, "code", "name", "place", "build__name"))
        .exclude(state=ComponentState.RETIRED)
        .select_related("build")[:MOST]
    )
    entries = LogEntry.objects.filter(component__in=rows).exclude(kind="undo")
    seen = _last(entries, "component_id")
    return [
        Found(
            row.code,
            row.name,
            "component",
            f"on {row.build}" if row.is_on else row.place,
            *seen.get(row.pk, ()),
        )
        for row in rows
    ]


def _pieces(words: list[str]) -> list[Found]:
    rows = list(
        Piece.objects.on_the_rack()
        .filter(_has(words, "code", "material__name", "heat_lot", "place", "note"))
        .select_related("material")[:MOST]
    )
    kept = {"piece__in": rows, "is_taken_back": False}
    seen = _last(Cut.objects.filter(**kept), "piece_id")
    for pk, (who, at) in _last(PieceCount.objects.filter(**kept), "piece_id").items():
        if pk not in seen or seen[pk][1] < at:
            seen[pk] = who, at
    return [
        Found(
            row.code,
            f"{row.material} {row.section} mm",
            row.form,
            row.place,
            *seen.get(row.pk, ()),
        )
        for row in rows
    ]


def _shelf(words: list[str]) -> list[Found]:
    used = list(
        Consumable.objects.on_the_shelf().filter(
            _has(words, "code", "name", "lot", "place", "note")
        )[:MOST]
    )
    trays = list(
        Tray.objects.on_the_shelf().filter(
            _has(words, "code", "size", "place", "note")
        )[:MOST]
    )
    moves = ShelfMove.objects.filter(is_taken_back=False)
    of_used = _last(moves.filter(consumable__in=used), "consumable_id")
    of_tray = _last(moves.filter(tray__in=trays), "tray_id")
    return [
        *(
            Found(row.code, row.name, "consumable", row.place, *of_used.get(row.pk, ()))
            for row in used
        ),
        *(
            Found(row.code, row.size, "tray", row.place, *of_tray.get(row.pk, ()))
            for row in trays
        ),
    ]


def _spares(words: list[str]) -> list[Found]:
    rows = Spare.objects.filter(
        _has(words, "code", "title", "place", "note"), retired_at=None
    )
    return [Found(row.code, row.title, "spare", row.place) for row in rows[:MOST]]


def _orders(words: list[str]) -> list[Found]:
    """Whose move it is, which is where it is until it came."""
    rows = list(
        Order.objects.filter(
            _has(words, "code", "title", "supplier__name", "lines__title"),
            given_up_at=None,
        )
        .distinct()
        .select_related("supplier")[:MOST]
    )
    seen = _last(LogEntry.objects.filter(order__in=rows), "order_id")
    return [
        Found(
            row.code,
            row.title,
            "order",
            _whose(row),
            *seen.get(row.pk, ()),
        )
        for row in rows
    ]


def _whose(order: Order) -> str:
    return {
        Move.ME: f"with me, not sent to {order.supplier}",
        Move.FIRM: f"with {order.supplier}",
        Move.CARRIER: f"on the road from {order.supplier}",
        Move.DONE: "came in",
    }[Move(order.move)]


def _last(rows: Any, key: str) -> dict[int, tuple[str, datetime]]:
    """Who had each in hand last, and when."""
    newest = rows.order_by("-at", "-pk").values_list(key, "person__name", "at")
    found: dict[int, tuple[str, datetime]] = {}
    for pk, who, at in newest[:MOST_LINES]:
        found.setdefault(pk, (who, at))
    return found
