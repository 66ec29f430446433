"""What now: the line that matters most, what can be started, and what is blocked."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse

from fabshop import clock
from fabshop.web.gate import signed_in
from fabshop.web.respond import respond


@signed_in
def now(request: HttpRequest) -> HttpResponse:
    return respond(request, "now/now.html", "", {"now": clock.now()})
