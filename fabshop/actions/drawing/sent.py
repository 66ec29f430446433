"""Which drawings went out with a sending: of each line the latest, or the one said."""

from __future__ import annotations

from fabshop.records.drawing import Drawing, DrawingSent
from fabshop.records.order import Sending


def note_drawings(sending: Sending) -> list[DrawingSent]:
    """Remember the drawings that went out.

    Where a line has a drawing of the very revision that was sent, it was that one;
    else its latest.
    """
    noted = []
    drawings = Drawing.objects.filter(line__order=sending.order).order_by("at", "id")
    by_line: dict[int, list[Drawing]] = {}
    for drawing in drawings:
        by_line.setdefault(drawing.line_id, []).append(drawing)
    for known in by_line.values():
        said = [one for one in known if one.revision == sending.revision]
        noted.append(
            DrawingSent.objects.create(sending=sending, drawing=(said or known)[-1])
        )
    return noted
