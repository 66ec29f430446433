"""Contradictions of drawings: a file that is gone, one that went out elsewhere."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from django.conf import settings
from django.db.models import F

from fabshop.actions.order.owed import line_name
from fabshop.records.drawing import Drawing, DrawingSent


def _without_a_file() -> Iterator[str]:
    for drawing in Drawing.objects.select_related("line__order"):
        if not (Path(settings.MEDIA_ROOT) / drawing.file).is_file():
            yield f"{line_name(drawing.line)}: the file of {drawing} is gone."


def _sent_with_another_order() -> Iterator[str]:
    sent = DrawingSent.objects.exclude(drawing__line__order=F("sending__order"))
    for one in sent.select_related("drawing", "sending__order"):
        yield f"{one.drawing} went out with {one.sending.order}, which it is not of."


DRAWING_CHECKS: dict[str, Callable[[], Iterable[str]]] = {
    "drawing-without-file": _without_a_file,
    "drawing-sent-elsewhere": _sent_with_another_order,
}
