"""The short address under every printed square code: any code, and its page."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from fabshop.errors import NotFound
from fabshop.records.build import Build, Component
from fabshop.records.joint import Joint
from fabshop.records.order import Order
from fabshop.records.stock import Piece
from fabshop.records.task import Task
from fabshop.web.gate import signed_in

# What a code may be of: the record, the field that holds it, and the page.
KINDS = (
    (Task, "code", "task"),
    (Component, "code", "component"),
    (Order, "code", "order"),
    (Build, "slug", "build-fitted"),
    (Piece, "code", "piece"),
    (Joint, "code", "joint"),
)


@signed_in
def go(request: HttpRequest, code: str) -> HttpResponse:
    wanted = code.replace("\0", "").strip().partition("/")[0]
    for kind, field, page in KINDS:
        found = kind.objects.filter(**{f"{field}__iexact": wanted}).first()
        if found is not None:
            return redirect(page, getattr(found, field))
    raise NotFound(
        f"Nothing here is called “{wanted[:40]}”. The sheet may be of another shop."
    )
