"""A frame from the lines of a DXF: tried first, shown, then drawn."""

from __future__ import annotations

import json
from math import isfinite
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect

from fabshop import clock
from fabshop.actions.frame import LinesTaken, read_lines, take_lines
from fabshop.errors import BadInput, ShopError
from fabshop.reckoning.frame import EndFact, FrameFacts, TubeFact, reckon_frame
from fabshop.reckoning.frame.vector import Vector
from fabshop.reference.material import materials
from fabshop.web.frame import FRAMES
from fabshop.web.frame_picture import frame_picture
from fabshop.web.gate import for_owner
from fabshop.web.respond import refused, respond
from fabshop.web.tap import said
from fabshop.web.typed import Typed

Lines = tuple[tuple[Vector, Vector], ...]
MOST_CARRIED = 2_000


@for_owner
def frame_drawing(request: HttpRequest, code: str) -> HttpResponse:
    """The lines are carried through the trial in the page; nothing is kept of it."""
    frame = get_object_or_404(FRAMES, code=code)
    context: dict[str, Any] = {
        "now": clock.now(),
        "frame": frame,
        "materials": [row.code for row in materials().values()],
    }
    if request.method != "POST":
        return respond(request, "frame/drawing.html", "", context)
    try:
        form = Typed(request)
        form.needed("od", "OD", most=40)
        form.needed("wall", "Wall", most=40)
        fields: dict[str, Any] = {
            "od_um": form.length_um("od", "OD") or 0,
            "wall_um": form.length_um("wall", "Wall") or 0,
            "tolerance_um": form.length_um("tolerance", "Tolerance") or 0,
            "material": form.text("material", "Material", most=60),
        }
        form.refuse_if_wrong()
        lines = _lines(request)
        taken = take_lines(
            frame=frame,
            lines=lines,
            accept=request.POST.get("do") == "take",
            **fields,
            **said(request),
        )
    except ShopError as error:
        return refused(request, error, "frame/drawing.html", "", context)
    if taken.is_written:
        messages.info(request, f"{len(taken.marks)} tubes are drawn from the file.")
        return redirect("frame", code)
    context |= {
        "taken": taken,
        "carried": json.dumps([[*start, *end] for start, end in lines]),
        "typed": request.POST,
        "picture": _picture(taken, fields["od_um"] / 1000, fields["wall_um"] / 1000),
    }
    return respond(request, "frame/drawing.html", "", context)


def _lines(request: HttpRequest) -> Lines:
    """Those of the file that was sent, else those that the trial carried along."""
    file = request.FILES.get("file")
    if file is not None and file.size:
        return read_lines(by=said(request)["by"], content=file.read())
    carried = request.POST.get("lines", "")
    if not carried:
        raise BadInput("No drawing: choose a DXF file.", field="file")
    try:
        rows = [[float(value) for value in row] for row in json.loads(carried)]
        if len(rows) > MOST_CARRIED or not all(
            len(row) == 6 and all(isfinite(value) for value in row) for row in rows
        ):
            raise ValueError
    except (ValueError, TypeError, RecursionError):
        raise BadInput(
            "The lines were lost. Choose the file again.", field="file"
        ) from None
    return tuple(((r[0], r[1], r[2]), (r[3], r[4], r[5])) for r in rows)


def _picture(taken: LinesTaken, od_mm: float, wall_mm: float) -> Any:
    nodes = {f"N{n}": at for n, at in enumerate(taken.snapped.nodes, start=1)}
    tubes = tuple(
        TubeFact(
            mark,
            f"N{start + 1}",
            f"N{end + 1}",
            od_mm,
            wall_mm,
            (EndFact(), EndFact()),
        )
        for mark, (start, end) in zip(taken.marks, taken.snapped.lines, strict=True)
    )
    return frame_picture(nodes, reckon_frame(FrameFacts(nodes, tubes)))
