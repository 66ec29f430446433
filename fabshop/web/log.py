"""The shop log: every line of it, one line with its photos and undo, and a note."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.db.models import Q, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from fabshop import clock, words
from fabshop.actions.log import note, undo_entry
from fabshop.errors import BadInput, ShopError
from fabshop.reckoning.elapsed import elapsed_minutes
from fabshop.records.build import Build, Component
from fabshop.records.joint import Joint
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, Receipt
from fabshop.records.shop import Person
from fabshop.records.stock import Piece
from fabshop.records.task import Task
from fabshop.web.gate import for_writers, signed_in
from fabshop.web.photo import keep_photos
from fabshop.web.respond import refused, respond
from fabshop.web.tap import tap

A_PAGE = 40
UNDO = timedelta(minutes=10)


@dataclass(frozen=True)
class Wanted:
    """Which lines of the log were asked for."""

    build: str = ""
    person: str = ""
    on: date | None = None
    before: tuple[datetime, int] | None = None

    @property
    def is_some(self) -> bool:
        return bool(self.build or self.person or self.on)

    @classmethod
    def of(cls, request: HttpRequest) -> Wanted:
        get = request.GET
        return cls(
            build=get.get("build", ""),
            person=get.get("person", ""),
            on=_day(get.get("day", "")),
            before=_before(get.get("before", "")),
        )

    def entries(self) -> QuerySet[LogEntry]:
        entries = LogEntry.objects.all()
        if self.build:
            entries = entries.filter(build__slug=self.build)
        if self.person.isdecimal():
            entries = entries.filter(person=int(self.person[:9]))
        if self.on:
            entries = _on_day(entries, self.on)
        if self.before:
            at, pk = self.before
            entries = entries.filter(Q(at__lt=at) | Q(at=at, pk__lt=pk))
        return entries.select_related(
            "person", "build", "task", "component", "order", "reversed_by"
        ).prefetch_related("photos__photo")

    def older_than(self, last: LogEntry) -> str:
        asked = {
            "build": self.build,
            "person": self.person,
            "day": self.on.isoformat() if self.on else "",
            "before": f"{last.at.isoformat()}_{last.pk}",
        }
        return urlencode({name: value for name, value in asked.items() if value})


def _on_day(entries: QuerySet[LogEntry], on: date) -> QuerySet[LogEntry]:
    start = timezone.make_aware(datetime.combine(on, time()))
    end = timezone.make_aware(datetime.combine(on + timedelta(days=1), time()))
    return entries.filter(at__gte=start, at__lt=end)


def people_and_clock(entries: QuerySet[LogEntry]) -> tuple[int, int]:
    """Minutes of all people together, and those on the clock: two at once are one."""
    stands = entries.filter(reversed_by=None, minutes__isnull=False)
    booked = list(stands.values_list("at", "minutes"))
    return sum(minutes for _, minutes in booked), elapsed_minutes(booked)


@signed_in
def log_list(request: HttpRequest) -> HttpResponse:
    wanted = Wanted.of(request)
    found = list(wanted.entries()[: A_PAGE + 1])
    entries = found[:A_PAGE]
    context: dict[str, Any] = {
        "now": clock.now(),
        "entries": entries,
        "older": wanted.older_than(entries[-1]) if len(found) > A_PAGE else "",
        "wanted": wanted,
    }
    if not request.htmx or request.htmx.history_restore_request:
        today = timezone.localtime(clock.now()).date()
        booked = people_and_clock(_on_day(LogEntry.objects.all(), today))
        context["minutes_today"], context["clock_today"] = booked
        context["builds"] = [
            ("", "every build"),
            *Build.objects.values_list("slug", "name"),
        ]
        context["people"] = [
            ("", "everybody"),
            *Person.objects.values_list("pk", "name"),
        ]
    return respond(request, "log/list.html", "log/_entries.html", context)


@signed_in
def log_entry(request: HttpRequest, client_id: str) -> HttpResponse:
    return _entry_page(request, client_id)


@require_POST
@for_writers
def log_undo(request: HttpRequest, client_id: str) -> HttpResponse:
    entry = _entry(client_id)
    try:
        undo_entry(entry=entry, **tap(request))
    except ShopError as error:
        return refused(request, error, "log/entry.html", "", _of_entry(request, entry))
    messages.success(request, "Undone. Both lines stay in the log.")
    return redirect("log-entry", client_id=client_id)


@require_POST
@for_writers
def log_photo(request: HttpRequest, client_id: str) -> HttpResponse:
    entry = _entry(client_id)
    try:
        if not request.FILES.getlist("photo"):
            raise BadInput("Choose a photo first.", field="photo")
        # What a phone sends after its count belongs to the parcel's receipt.
        receipt = Receipt.objects.filter(parcel=client_id).first()
        if receipt is None:
            keep_photos(request, entry=entry)
        else:
            keep_photos(request, receipt=receipt)
    except ShopError as error:
        return refused(request, error, "log/entry.html", "", _of_entry(request, entry))
    return redirect("log-entry", client_id=client_id)


@for_writers
def log_note(request: HttpRequest) -> HttpResponse:
    context = {
        "now": clock.now(),
        "about": request.GET.get("about", ""),
    }
    if request.method != "POST":
        return respond(request, "log/note.html", "", context)
    try:
        about = _about(request.POST.get("about", ""))
        entry = note(
            text=request.POST.get("text", ""),
            # A phone sends the words first, and says how many photos will follow.
            has_photo=bool(request.FILES) or "photo_follows" in request.POST,
            **about,
            **tap(request),
        )
    except ShopError as error:
        return refused(request, error, "log/note.html", "", context)
    try:
        keep_photos(request, entry=entry)
    except ShopError as error:
        # The words are in the log already; the photo alone was refused.
        messages.warning(request, f"Your words are kept, the photo is not. {error}")
    messages.success(request, entry.notice or "Kept in the shop log.")
    return redirect("log-entry", client_id=entry.client_id)


def _entry_page(request: HttpRequest, client_id: str) -> HttpResponse:
    return respond(request, "log/entry.html", "", _of_entry(request, _entry(client_id)))


def _entry(client_id: str) -> LogEntry:
    entries = LogEntry.objects.select_related(
        "person", "build", "task", "component", "order", "reverses", "reversed_by"
    ).prefetch_related("photos__photo")
    return get_object_or_404(entries, client_id=client_id)


def _of_entry(request: HttpRequest, entry: LogEntry) -> dict[str, Any]:
    now = clock.now()
    is_undone = hasattr(entry, "reversed_by")
    return {
        "now": now,
        "entry": entry,
        "is_undone": is_undone,
        "times_differ": abs(entry.at - entry.server_at) > timedelta(minutes=1),
        "may_undo": request.user.may_write
        and not is_undone
        and entry.kind != words.EntryKind.UNDO
        and now - entry.server_at <= UNDO,
    }


def _about(code: str) -> dict[str, Any]:
    """What a note is about: any code of the shop, or nothing."""
    code = code.replace("\0", "").strip()
    if not code:
        return {}
    for name, kind, field in (
        ("task", Task, "code"),
        ("component", Component, "code"),
        ("order", Order, "code"),
        ("build", Build, "slug"),
        ("joint", Joint, "code"),
        ("piece", Piece, "code"),
    ):
        found = kind.objects.filter(**{f"{field}__iexact": code}).first()
        if found is not None:
            return {name: found}
    raise BadInput(
        f"About: nothing here is called “{code[:40]}”. Leave it empty.",
        field="about",
    )


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def _before(text: str) -> tuple[datetime, int] | None:
    at, _, pk = text.rpartition("_")
    try:
        return datetime.fromisoformat(at), int(pk)
    except ValueError:
        return None
