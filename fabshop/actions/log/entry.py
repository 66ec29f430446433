"""Lines of the shop log: written once, never changed, answered again by their id."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import datetime
from functools import wraps
from typing import Any, ParamSpec, TypeVar
from uuid import uuid4

from django.db import IntegrityError, transaction

from fabshop import words
from fabshop.actions.typed import kept_text
from fabshop.errors import BadInput, Clash, ShopError
from fabshop.records.build import Build, Component
from fabshop.records.log import LogEntry
from fabshop.records.order import Order
from fabshop.records.shop import Person
from fabshop.records.task import Task

P = ParamSpec("P")
R = TypeVar("R")

MOST_CLIENT_ID = 64
# It stands in addresses, so nothing else may be in it.
_CLIENT_ID = re.compile(rf"[A-Za-z0-9_.:~-]{{1,{MOST_CLIENT_ID}}}")


class AlreadySaid(Exception):
    """Another request with the same client id was written first."""

    def __init__(self, entry: LogEntry) -> None:
        super().__init__(entry.client_id)
        self.entry = entry


def new_client_id() -> str:
    return str(uuid4())


def said_before(client_id: str | None) -> LogEntry | None:
    """The line of the log that was written under this client id, if one was."""
    if not client_id:
        return None
    if not _CLIENT_ID.fullmatch(client_id):
        raise BadInput(
            f"client_id: 1 to {MOST_CLIENT_ID} letters, digits and any of - _ . : ~",
            field="client_id",
        )
    return LogEntry.objects.filter(client_id=client_id).first()


def once(
    *kinds: words.EntryKind, first: Callable[[LogEntry], R]
) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Make an action atomic, and answer a client id seen before with `first` of it.

    The second of two requests that race with one id rolls back whole and is given
    the first one's answer. An id seen on a line of another kind, or by another
    person, is not a repetition and is refused.
    """

    def decorate(action: Callable[P, R]) -> Callable[P, R]:
        @wraps(action)
        def said_once(*args: P.args, **kwargs: P.kwargs) -> R:
            client_id: Any = kwargs.get("client_id")
            by: Any = kwargs.get("by")
            try:
                with transaction.atomic():
                    entry = said_before(client_id)
                    if entry is None:
                        return action(*args, **kwargs)
            except AlreadySaid as said:
                entry = said.entry
            except ShopError:
                # Refused only because the first of two that raced was taken?
                raced = said_before(client_id)
                if raced is None:
                    raise
                entry = raced
            if entry.kind not in kinds or entry.person_id != by.pk:
                raise Clash(
                    f"This id was already used for “{entry.get_kind_display()}” "
                    f"by {entry.person}. Send it with a fresh one.",
                    field="client_id",
                )
            return first(entry)

        return said_once

    return decorate


def itself(entry: LogEntry) -> LogEntry:
    """The first answer of actions that answer with their line of the log."""
    return entry


def write_entry(
    *,
    kind: words.EntryKind,
    by: Person,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    build: Build | None = None,
    task: Task | None = None,
    component: Component | None = None,
    order: Order | None = None,
    text: str = "",
    minutes: int | None = None,
    left_minutes: int | None = None,
    stuck_on: words.StuckOn | str = "",
    started_by: LogEntry | None = None,
    reverses: LogEntry | None = None,
    before: dict[str, Any] | None = None,
) -> LogEntry:
    """Write one line of the log, of the build that its task, part or order is of.

    `at` is when it happened by the phone's clock (`now` where nothing is said); both
    are kept, however far apart. Raises AlreadySaid where the client id was taken in
    between; an action under `once` answers that with the first result.
    """
    text, notice = kept_text(text)
    for thing in (task, component, order):
        if build is None and thing is not None:
            build = thing.build
    try:
        with transaction.atomic():
            return LogEntry.objects.create(
                client_id=client_id or new_client_id(),
                kind=kind,
                person=by,
                build=build,
                task=task,
                component=component,
                order=order,
                text=text,
                notice=notice,
                minutes=minutes,
                left_minutes=left_minutes,
                stuck_on=stuck_on,
                started_by=started_by,
                reverses=reverses,
                before=before or {},
                at=at or now,
                server_at=now,
            )
    except IntegrityError:
        if entry := said_before(client_id):
            raise AlreadySaid(entry) from None
        raise
