"""The drawing of an order line: put there, looked at, fetched."""

from __future__ import annotations

from pathlib import Path

from django.conf import settings
from django.contrib import messages
from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from fabshop import clock
from fabshop.actions.drawing import (
    describe_line,
    held_of,
    put_drawing,
    send_to_event,
)
from fabshop.actions.drawing.look import look_at
from fabshop.actions.drawing.put import MOST_BYTES
from fabshop.actions.stock.material import material_called
from fabshop.errors import BadInput, NotAllowed, NotFound, ShopError, TooLarge
from fabshop.reckoning.drawing.picture import picture
from fabshop.records.drawing import Drawing
from fabshop.records.order import Order, OrderLine
from fabshop.records.stock import Material
from fabshop.reference.material import materials
from fabshop.web.gate import for_owner, signed_in
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import tap
from fabshop.web.typed import Typed


@signed_in
def drawing(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """What stands on the line, what is doubtful about it, and every revision."""
    line = _line(code, number)
    if request.method != "POST":
        return respond(request, "drawing/drawing.html", "", _context(line))
    if not request.user.is_owner:
        raise NotAllowed("Only the owner puts drawings on an order.")
    try:
        if request.POST.get("do") == "describe":
            _describe(request, line)
        else:
            _put(request, line)
    except ShopError as error:
        page = "drawing/drawing.html"
        return refused(request, error, page, "", _context(_line(code, number)))
    return redirect("drawing", code, number)


@signed_in
def drawing_file(request: HttpRequest, pk: int) -> HttpResponse:
    """The file as it came, as a download: a browser never opens it by itself."""
    kept = get_object_or_404(Drawing, pk=pk)
    root = Path(settings.MEDIA_ROOT).resolve()
    path = (root / kept.file).resolve()
    if not path.is_relative_to(root) or not path.is_file():
        raise NotFound("The file of this drawing is not in the shop's folder.")
    response = FileResponse(
        path.open("rb"),
        content_type="application/octet-stream",
        as_attachment=True,
        filename=kept.file_name,
    )
    response.headers["Cache-Control"] = "private, max-age=86400"
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Content-Security-Policy"] = "default-src 'none'; sandbox"
    return response


@require_POST
@for_owner
def order_event(request: HttpRequest, code: str) -> HttpResponse:
    """What may land after pack-out goes to the event, or to the shop after all."""
    order = get_object_or_404(Order, code=code)
    send_to_event(order=order, back=bool(request.POST.get("back")), **tap(request))
    return redirect("order", code)


def _put(request: HttpRequest, line: OrderLine) -> None:
    file = request.FILES.get("file")
    if file is None:
        raise BadInput("File: choose one first.", field="file")
    if file.size > MOST_BYTES:  # said before it is read into memory
        raise TooLarge(
            f"File: {file.size / 1048576:.1f} MB, and at most "
            f"{MOST_BYTES // 1048576} MB are taken.",
            field="file",
        )
    kept = put_drawing(
        line=line,
        content=file.read(),
        file_name=file.name or "",
        revision=request.POST.get("revision", ""),
        **tap(request),
    )
    said = f"{kept} is on the line."
    if kept.read is None:
        said += " It is no DXF: kept as a file, nothing of it is read."
    messages.info(request, said)


def _describe(request: HttpRequest, line: OrderLine) -> None:
    form = Typed(request)
    thickness_um = form.length_um("thickness", "Thickness")
    material = None
    if seen := form.raw("material"):
        material = material_called(seen)
    finish = form.text("finish", "Finish", most=80)
    form.refuse_if_wrong()
    describe_line(
        line=line,
        material=material,
        thickness_um=thickness_um,
        finish=finish,
        **tap(request),
    )


def _line(code: str, number: int) -> OrderLine:
    lines = OrderLine.objects.select_related(
        "order__supplier", "material", "component"
    ).prefetch_related("drawings__person", "drawings__sendings__sending")
    return get_object_or_404(lines, order__code=code, number=number)


def _context(line: OrderLine) -> Context:
    drawings = list(line.drawings.all())
    held = held_of(line.order).get(line.pk)
    look = look_at(line, drawings, held) if drawings else None
    return {
        "now": clock.now(),
        "line": line,
        "order": line.order,
        "look": look,
        "picture": picture(look.shape) if look and look.shape else None,
        "drawings": drawings[::-1],
        "materials": _materials(),
    }


def _materials() -> list[tuple[str, str]]:
    """The shop's materials, then those that are known from outside."""
    ours = list(Material.objects.values_list("code", "name"))
    codes = {code for code, _ in ours}
    known = [(row.code, row.name) for row in materials().values()]
    return [("", "not said"), *ours, *(row for row in known if row[0] not in codes)]
