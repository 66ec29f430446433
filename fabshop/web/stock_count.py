"""Count-up: walk a place with the phone and type the figures seen."""

from __future__ import annotations

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from fabshop import clock, units
from fabshop.actions.stock import count_piece
from fabshop.errors import BadInput, FieldError, ShopError
from fabshop.reckoning.facts import PieceFact
from fabshop.records.stock import Piece
from fabshop.snapshot.stock import piece_facts
from fabshop.web.gate import for_writers
from fabshop.web.respond import Context, refused, respond
from fabshop.web.shelf_count import (
    Thing,
    count_shelf,
    seen_on_the_shelf,
    shelf_places,
    shelf_things,
)
from fabshop.web.stock_form import places
from fabshop.web.tap import tap
from fabshop.web.typed import Typed


@for_writers
def rack_count(request: HttpRequest) -> HttpResponse:
    """Choose a place, type what is seen; what differs needs one reason."""
    place = request.GET.get("place", "").replace("\0", "")[:60]
    pieces = piece_facts(Piece.objects.on_the_rack().filter(place=place))
    things = shelf_things(place)
    context: Context = {
        "now": clock.now(),
        "place": place,
        "places": [*dict.fromkeys([*places(), *shelf_places()])],
        "pieces": [
            (piece, request.POST.get(f"seen-{piece.id}", "")) for piece in pieces
        ],
        "things": [
            (thing, request.POST.get(f"seen-{thing.code}", "")) for thing in things
        ],
    }
    if request.method != "POST":
        return respond(request, "stock/count.html", "", context)
    try:
        said = _counted(request, pieces, things)
    except ShopError as error:
        return refused(request, error, "stock/count.html", "", context)
    for sentence in said:
        messages.info(request, sentence)
    return redirect("rack")


def _counted(
    request: HttpRequest, pieces: tuple[PieceFact, ...], things: list[Thing]
) -> list[str]:
    form, about = Typed(request), tap(request)
    seen: dict[str, tuple[int, ...]] = {}
    for piece in pieces:
        name = f"seen-{piece.id}"
        text = form.raw(name)
        if text == "0":
            seen[piece.id] = (0, 0) if piece.is_flat else (0,)
            continue
        try:
            sizes = units.parse_sizes_um(
                text, count=1 + piece.is_flat, field=name, label=piece.id
            )
        except ShopError as error:
            form.errors.extend(error.errors)
        else:
            if sizes:
                seen[piece.id] = sizes
    shelved = seen_on_the_shelf(form, things)
    form.refuse_if_wrong()
    if not seen and not shelved:
        raise BadInput("Nothing is counted yet: type what you see of one thing.")
    reason = form.text("reason", "Reason", most=160)
    rows = Piece.objects.in_bulk(list(seen), field_name="code")
    changed = 0
    client_id = about.pop("client_id")
    with transaction.atomic():
        for number, (code, sizes) in enumerate(seen.items()):
            try:
                count = count_piece(
                    piece=rows[code],
                    length_um=sizes[0],
                    width_um=sizes[1] if len(sizes) > 1 else None,
                    reason=reason,
                    client_id=f"{client_id[:58]}-{number}" if client_id else None,
                    **about,
                )
            except BadInput as error:
                where = f"seen-{code}" if error.field != "reason" else "reason"
                raise BadInput(
                    error.message,
                    field=where,
                    errors=(FieldError(where, error.message),),
                ) from None
            changed += bool(count.length_difference_um or count.width_difference_um)
        changed += count_shelf(shelved, reason, client_id, about)
    return [f"{len(seen) + len(shelved)} counted, {changed} differed from the record."]
