"""What a tap carries: who, the phone's own id for it, and when it was made."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TypedDict

from django.http import HttpRequest
from django.utils import timezone

from fabshop import clock
from fabshop.errors import BadInput
from fabshop.records.shop import Person

# A phone's clock further off than this is said aloud, once, beside the answer.
MOST_ASTRAY = timedelta(minutes=10)


class Tap(TypedDict):
    by: Person
    now: datetime
    at: datetime
    client_id: str | None


class Answered(TypedDict):
    confirm: bool
    ended_at: datetime | None


class Said(TypedDict):
    by: Person
    now: datetime


def tap(request: HttpRequest) -> Tap:
    """The arguments of an action that a phone's tap starts: `start_work(**tap(...))`.

    `at` is the phone's time of the tap, corrected by how far its clock was astray
    when the form was sent, so that a phone set wrong by days does no harm.
    """
    now = clock.now()
    return Tap(
        by=request.user,
        now=now,
        at=tapped_at(request, now),
        client_id=request.POST.get("client_id") or None,
    )


def said(request: HttpRequest) -> Said:
    """The arguments of an action that takes no phone's id: `add_build(**said(...))`."""
    return Said(by=request.user, now=clock.now())


def answered(request: HttpRequest) -> Answered:
    """What a person answered when a stop asked: yes, or when it really ended."""
    text = request.POST.get("ended_at", "").strip()
    ended_at = _moment(text) or _in_the_shop(text)
    if text and ended_at is None:
        raise BadInput(
            f"Stopped at: “{text[:40]}” is not a moment. Choose a day and a time.",
            field="ended_at",
        )
    return Answered(confirm=bool(request.POST.get("confirm")), ended_at=ended_at)


def astray(request: HttpRequest) -> timedelta | None:
    """How far this phone's clock is off, where that is more than ten minutes."""
    sent_at = _moment(request.POST.get("sent_at", ""))
    if sent_at is None:
        return None
    # The server's own clock: the shop's may have been told to stand still.
    off = sent_at - timezone.now()
    return off if abs(off) > MOST_ASTRAY else None


def tapped_at(request: HttpRequest, now: datetime) -> datetime:
    """When the tap was made, by the phone's clock put right; `now` if it is unsaid."""
    at = _moment(request.POST.get("at", ""))
    sent_at = _moment(request.POST.get("sent_at", "")) or at
    if at is None or sent_at is None or at > sent_at:
        return now
    return now - (sent_at - at)


def _moment(text: str) -> datetime | None:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    return moment if moment.tzinfo is not None else None


def _in_the_shop(text: str) -> datetime | None:
    """A moment picked on the page, which is on the shop's wall clock."""
    try:
        return timezone.make_aware(datetime.fromisoformat(text))
    except ValueError:
        return None
