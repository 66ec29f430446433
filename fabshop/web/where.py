"""Where is it: one box, one list of everything that has a code and a place."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse

from fabshop import clock
from fabshop.snapshot.where import MOST, where
from fabshop.web.gate import signed_in
from fabshop.web.respond import respond


@signed_in
def where_is(request: HttpRequest) -> HttpResponse:
    asked = request.GET.get("what", "").replace("\0", "").strip()[:80]
    found = where(asked)
    context = {
        "now": clock.now(),
        "asked": asked,
        "found": found,
        "is_all": len(found) < MOST,
    }
    return respond(request, "where/where.html", "where/_found.html", context)
