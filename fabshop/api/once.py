"""A write that is sent twice under one Idempotency-Key happens once."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from typing import Any, cast

from django.http import HttpResponseBase
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from fabshop.actions.log import keep_answer, kept_answer
from fabshop.api.problem import problem_handler
from fabshop.clock import now
from fabshop.errors import BadInput, Clash, ShopError
from fabshop.records.shop import Person

KEY_MAX = 200


class ShopView(APIView):
    """A view whose writes go through `once`; `by` is who is signed in."""

    def by(self) -> Person:
        return cast(Person, self.request.user)

    def once(
        self,
        request: Request,
        act: Callable[[str | None], dict[str, Any] | list[Any]],
        *,
        status: int = 200,
    ) -> HttpResponseBase:
        """Answer with what `act` returns, told the phone-made id of this write.

        With an `Idempotency-Key`, the first answer (refusals too) is kept and given
        again to the same key and body; another body under the same key is refused.
        """
        key = request.headers.get("Idempotency-Key")
        if key is None:
            return Response(act(None), status=status)
        if not 1 <= len(key) <= KEY_MAX:
            raise BadInput(
                f"An Idempotency-Key has 1 to {KEY_MAX} characters, not {len(key)}.",
                field="Idempotency-Key",
            )
        body_hash = hashlib.sha256(_body(request)).hexdigest()
        kept = kept_answer(by=self.by(), key=key)
        if kept is None:
            # The actions know the key too, so that two at once still write once.
            client_id = hashlib.sha256(f"{self.by().pk}:{key}".encode()).hexdigest()
            try:
                answer = Response(act(client_id), status=status)
            except ShopError as refusal:
                if refusal.status >= 500:
                    raise
                answer = cast(Response, problem_handler(refusal, {}))
            kept = keep_answer(
                by=self.by(),
                key=key,
                method=str(request.method),
                path=request.path,
                body_hash=body_hash,
                status=answer.status_code,
                content_type=answer.content_type or "application/json",
                body=JSONRenderer().render(answer.data).decode(),
                now=now(),
            )
        if (kept.method, kept.path, kept.body_hash) != (
            request.method,
            request.path,
            body_hash,
        ):
            raise Clash(
                "This Idempotency-Key came before with another request.",
                field="Idempotency-Key",
                code="key-used-before",
            )
        return Kept(kept.body, status=kept.status, content_type=kept.content_type)


class Kept(Response):
    """An answer that was rendered when it was first given."""

    def __init__(self, text: str, *, status: int, content_type: str) -> None:
        super().__init__(None, status=status, content_type=content_type)
        self.text = text

    @property
    def rendered_content(self) -> bytes:
        self["Content-Type"] = str(self.content_type)
        return self.text.encode()


def _body(request: Request) -> bytes:
    # A multipart body is a stream that the parser may have read already; its
    # fields and the sizes of its files tell two bodies apart well enough.
    if request.content_type and request.content_type.startswith("multipart/"):
        fields = sorted((k, request.data.getlist(k)) for k in request.data)
        return repr(
            [(k, [getattr(v, "size", v) for v in values]) for k, values in fields]
        ).encode()
    return JSONRenderer().render(request.data)
