"""What a phone kept and sends: answered once for each id, and never half taken."""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Callable
from typing import Any

from django.db import OperationalError, transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fabshop import clock
from fabshop.actions.log import keep_answer, kept_answer
from fabshop.records.log import KeptAnswer
from fabshop.web.gate import signed_in
from fabshop.web.respond import respond

MOST_KEY = 64
# A full disk and a shop that is busy with another write are not the phone's fault.
BUSY = (OperationalError, sqlite3.OperationalError)
FULL = {errno.ENOSPC, errno.EDQUOT, errno.EROFS}


class Outbox:
    """Answers what was kept on a phone (`X-Kept`: its id) once, whole, in its words.

    The view and the keeping of its answer are one transaction: after a cut at any
    point the same id finds either nothing done or the first answer. Where a phone has
    not signed in it is told so (401) and keeps what it has. The answer carries
    `X-Kept`, where it leads (`X-To`) and the draft of what was refused (`X-Draft`).
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        key = request.headers.get("X-Kept", "")
        if request.method != "POST" or not 0 < len(key) <= MOST_KEY:
            return self.get_response(request)
        if not request.user.is_authenticated:
            return HttpResponse("Sign in first.", status=401)
        try:
            return self._once(request, f"kept:{key}")
        except BUSY:
            return shut_for_now(request)

    def process_exception(
        self, request: HttpRequest, exception: Exception
    ) -> HttpResponse | None:
        """A full disk or a locked database is a 503 in words; the phone keeps."""
        is_full = isinstance(exception, OSError) and exception.errno in FULL
        if not isinstance(exception, BUSY) and not is_full:
            return None
        return shut_for_now(request)

    def _once(self, request: HttpRequest, key: str) -> HttpResponse:
        by: Any = request.user
        with transaction.atomic():
            if kept := kept_answer(by=by, key=key):
                return _given_again(request, kept)
            response = self.get_response(request)
            if response.status_code >= 500 or "X-Form" in response.headers:
                transaction.set_rollback(True)
                return response
            given = {
                "status": response.status_code,
                "content_type": response.headers.get("Content-Type", "")[:80],
                "body": _body(response),
            }
            kept = keep_answer(
                by=by,
                key=key,
                method="POST",
                path=request.path,
                body_hash="",
                now=clock.now(),
                **given,
            )
            if kept.body != given["body"]:
                # The other of two that raced was first: its answer holds.
                transaction.set_rollback(True)
                return _given_again(request, kept)
        return _marked(response, request, getattr(request, "draft", None))


def shut_for_now(request: HttpRequest) -> HttpResponse:
    """Nothing was taken, and the page says what to do."""
    response = render(request, "web/outbox/busy.html", status=503)
    response.headers["Retry-After"] = "10"
    return response


@signed_in
def kept(request: HttpRequest) -> HttpResponse:
    """What this phone has kept; the list itself is drawn by the phone."""
    return respond(request, "outbox/kept.html", "", {"now": clock.now()})


def _body(response: HttpResponse) -> str:
    to = response.headers.get("Location")
    return to if to else response.content.decode()


def _given_again(request: HttpRequest, kept: KeptAnswer) -> HttpResponse:
    if 300 <= kept.status < 400:
        response = HttpResponse(status=kept.status, headers={"Location": kept.body})
    else:
        response = HttpResponse(
            kept.body, status=kept.status, content_type=kept.content_type
        )
    return _marked(response, request, None)


def _marked(response: HttpResponse, request: HttpRequest, draft: Any) -> HttpResponse:
    """A redirect as plain words: what fetches it should not follow it unseen."""
    to = response.headers.get("Location")
    if to:
        plain = HttpResponse("Taken.", content_type="text/plain")
        plain.cookies = response.cookies
        plain.headers["X-To"] = to
        response = plain
    response.headers["X-Kept"] = request.headers["X-Kept"]
    if draft is not None:
        response.headers["X-Draft"] = str(draft.pk)
    return response
