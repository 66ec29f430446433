"""Phones in a bad place, for the bench: they keep what is tapped and send it again."""

from __future__ import annotations

import http.client
import random
import socket
import urllib.parse
from dataclasses import dataclass, field
from http.cookies import SimpleCookie
from uuid import uuid4

PATIENCE_S = 30.0
FAULTS = ("none", "before", "half", "unheard")


@dataclass
class Phone:
    """One phone with its outbox; `taken` are the ids that the shop has said yes to.

    It does what the page's outbox does: it keeps an entry under an id of its own and
    sends it until the shop has answered it as its own (`X-Kept`).
    """

    port: int
    random: random.Random
    cookies: dict[str, str] = field(default_factory=dict)
    kept: list[tuple[str, str]] = field(default_factory=list)
    taken: set[str] = field(default_factory=set)
    tries: int = 0
    refused: int = 0

    def sign_in(self, path: str) -> None:
        """Open a one-time link and press its button."""
        self._answer("GET", path, "")
        self._answer("POST", path, self._form({}))
        if "fabshop" not in self.cookies:
            raise ConnectionError(f"not signed in by {path}")

    def tap(self, text: str) -> None:
        """Keep a note on the phone."""
        self.kept.append((str(uuid4()), text))

    def send(self, faults: tuple[str, ...] = ("none",)) -> None:
        """Send all that is kept, in order; the network fails as it is told to."""
        for key, text in list(self.kept):
            self.tries += 1
            fault = self.random.choice(faults)
            if fault == "before":
                return
            body = self._form({"client_id": key, "text": text})
            try:
                status, heard = self._answer("POST", "/log/note/", body, key, fault)
            except (OSError, http.client.HTTPException):
                return
            if heard.get("x-kept") != key:
                return
            self.refused += status >= 400
            self.taken.add(key)
            self.kept.remove((key, text))

    def _form(self, fields: dict[str, str]) -> str:
        token = self.cookies.get("fabshop_csrf", "")
        return urllib.parse.urlencode({"csrfmiddlewaretoken": token, **fields})

    def _answer(
        self, method: str, path: str, body: str, key: str = "", fault: str = "none"
    ) -> tuple[int, dict[str, str]]:
        there = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE_S)
        head = {
            "Cookie": "; ".join(f"{k}={v}" for k, v in self.cookies.items()),
            "Content-Type": "application/x-www-form-urlencoded",
            "Content-Length": str(len(body)),
            **({"X-Kept": key} if key else {}),
        }
        try:
            there.putrequest(method, path)
            for name, value in head.items():
                there.putheader(name, value)
            there.endheaders()
            half = body[: len(body) // 2] if fault == "half" else body
            if half:
                there.send(half.encode())
            if fault in ("half", "unheard"):
                # The phone is out of reach: it never hears what became of it.
                if there.sock is not None:
                    there.sock.shutdown(socket.SHUT_WR)
                raise ConnectionError(fault)
            answer = there.getresponse()
            answer.read()
            for line in answer.headers.get_all("Set-Cookie") or []:
                for name, morsel in SimpleCookie(line).items():
                    self.cookies[name] = morsel.value
            heard = {name.lower(): value for name, value in answer.headers.items()}
            return answer.status, heard
        finally:
            there.close()
