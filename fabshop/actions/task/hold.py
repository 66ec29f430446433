"""Holds: failed by anybody who writes, signed and waived by the owner."""

from __future__ import annotations

from contextlib import suppress
from datetime import datetime

from fabshop import words
from fabshop.actions.log.entry import new_client_id, once, write_entry
from fabshop.actions.log.timer import (
    end_timer_on,
    lock_person,
    locked_task,
    refuse_finished,
)
from fabshop.actions.moved import Before, move
from fabshop.actions.shop import require
from fabshop.actions.task.finish import is_passed, mark_done, refuse_unfit
from fabshop.actions.task.reading import refuse_unread
from fabshop.actions.typed import kept_text
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import HoldSigning, Task


def _signed_first(entry: LogEntry) -> HoldSigning:
    return HoldSigning.objects.get(client_id=entry.client_id)


@once(words.EntryKind.HOLD, first=_signed_first)
def sign_hold(
    *,
    by: Person,
    task: Task,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    seen_version: int | None = None,
) -> HoldSigning:
    """Sign a hold whose readings are all taken and within bounds; it is then done.

    `seen_version` is the task's version on the signer's page: a fail that it had not
    seen stands, and the signing is kept beside it.
    """
    require(by, "write")
    if not by.is_owner:
        raise NotAllowed("A helper cannot sign a hold; the reading is kept, unsigned.")
    lock_person(by)
    task = _locked_hold(task)
    refuse_unread(task)
    return _pass(
        words.HoldVerdict.SIGNED,
        by=by,
        task=task,
        now=now,
        at=at,
        client_id=client_id,
        seen_version=seen_version,
    )


@once(words.EntryKind.HOLD, first=_signed_first)
def waive_hold(
    *,
    by: Person,
    task: Task,
    reason: str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    seen_version: int | None = None,
) -> HoldSigning:
    """Let a hold go untested, with the owner's reason; it is then done."""
    require(by, "write")
    if not by.is_owner:
        raise NotAllowed("A helper cannot waive a hold; only the owner does.")
    if not reason.strip():
        raise BadInput("A hold is waived with a reason or not at all.", field="reason")
    lock_person(by)
    return _pass(
        words.HoldVerdict.WAIVED,
        by=by,
        task=_locked_hold(task),
        now=now,
        at=at,
        client_id=client_id,
        reason=reason,
        seen_version=seen_version,
    )


@once(words.EntryKind.HOLD, first=_signed_first)
def fail_hold(
    *,
    by: Person,
    task: Task,
    reason: str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    seen_version: int | None = None,
) -> HoldSigning:
    """Fail a hold, finished or not: it is open again, and its readings are void.

    A helper may: failing closes nothing up. Whatever was signed without knowing of
    this fail does not stand, so `seen_version` is not asked about.
    """
    require(by, "write")
    task = _locked_hold(task)
    if task.state == words.TaskState.GIVEN_UP:
        raise Clash(f"{task} is given up.", code="is-finished")
    if not reason.strip():
        raise BadInput("Say what failed.", field="reason")
    return fail(task, by=by, reason=reason, now=now, at=at, client_id=client_id)


def fail(
    task: Task,
    *,
    by: Person,
    reason: str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> HoldSigning:
    """Write the fail of a locked hold; the version it makes is what must be seen."""
    before: Before = {}
    if task.state in (words.TaskState.DONE, words.TaskState.ACCEPTED):
        opened = words.TaskState.OPEN
        move(task, before, state=opened, done_at=None, cured_at=None)
    else:
        move(task, before, state=task.state)
    signing = _signing(
        words.HoldVerdict.FAILED, by, task, at or now, client_id, reason, task.version
    )
    _write(signing, now=now, before=before)
    return signing


def _pass(
    verdict: words.HoldVerdict,
    *,
    by: Person,
    task: Task,
    now: datetime,
    at: datetime | None,
    client_id: str | None,
    seen_version: int | None,
    reason: str = "",
) -> HoldSigning:
    """Write a signing or a waiver, and finish the hold where that passes it."""
    refuse_finished(task)
    seen = task.version if seen_version is None else seen_version
    signing = _signing(verdict, by, task, at or now, client_id, reason, seen)
    before: Before = {}
    if is_passed(task):
        refuse_unfit(task, by=by)
        with suppress(NeedsAnswer):
            # A forgotten timer asks on its own bar; the signature does not wait.
            stop = end_timer_on(task, by=by, now=now, at=at or now)
            before["with"] = [stop.pk] if stop else []
            task.refresh_from_db()
        mark_done(task, at=at or now, before=before)
    _write(signing, now=now, before=before)
    return signing


def _signing(
    verdict: words.HoldVerdict,
    by: Person,
    task: Task,
    at: datetime,
    client_id: str | None,
    reason: str,
    seen_version: int,
) -> HoldSigning:
    return HoldSigning.objects.create(
        task=task,
        verdict=verdict,
        reason=kept_text(reason)[0].strip(),
        person=by,
        at=at,
        seen_version=seen_version,
        client_id=client_id or new_client_id(),
    )


def _write(signing: HoldSigning, *, now: datetime, before: Before) -> None:
    why = f": {signing.reason}" if signing.reason else ""
    write_entry(
        kind=words.EntryKind.HOLD,
        by=signing.person,
        now=now,
        at=signing.at,
        client_id=signing.client_id,
        task=signing.task,
        text=words.HoldVerdict(signing.verdict).label + why,
        before=before | {"signing": signing.pk},
    )


def _locked_hold(task: Task) -> Task:
    task = locked_task(task)
    if not task.is_hold:
        raise Clash(f"{task} is not a hold; there is nothing to sign.")
    return task
