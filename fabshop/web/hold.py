"""A hold: its readings, what lies over its zone, and Sign, Fail or Waive."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect

from fabshop import clock, words
from fabshop.actions.log import note
from fabshop.actions.task import fail_hold, sign_hold, take_reading, waive_hold
from fabshop.errors import BadInput, NotFound, ShopError
from fabshop.reckoning.readiness import kept_open
from fabshop.records.log import LogEntry
from fabshop.records.task import Reading, ReadingTaken, Task, hold_verdict
from fabshop.snapshot import must_come_off, take
from fabshop.web.gate import for_writers
from fabshop.web.photo import keep_photos, photos_of
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import Tap, tap
from fabshop.web.typed import Typed


@dataclass(frozen=True)
class Asked:
    """One reading as the page asks for it, with the latest since the last fail."""

    reading: Reading
    latest: ReadingTaken | None

    @property
    def name(self) -> str:
        return f"reading-{self.reading.number}"

    @property
    def is_tick(self) -> bool:
        return self.reading.kind == words.ReadingKind.TICK

    @property
    def value(self) -> str:
        if self.latest is None:
            return ""
        shown = f"{self.latest.value:f}"
        return shown.rstrip("0").rstrip(".") if "." in shown else shown

    @property
    def bounds(self) -> str:
        low, high = self.reading.low, self.reading.high
        unit = f" {self.reading.unit}" if self.reading.unit else ""
        if low is not None and high is not None:
            return f"from {low.normalize():f} to {high.normalize():f}{unit}"
        if low is not None:
            return f"{low.normalize():f}{unit} or more"
        return f"{high.normalize():f}{unit} or less" if high is not None else ""


@for_writers
def task_hold(request: HttpRequest, code: str) -> HttpResponse:
    task = get_object_or_404(
        Task.objects.select_related("build").prefetch_related(
            "readings__taken__person", "signings__person", "sites__component"
        ),
        code=code,
    )
    if not task.is_hold:
        raise NotFound(f"{task} is not a hold; there is nothing to sign.")
    context = _context(task)
    if request.method != "POST":
        return respond(request, "task/hold.html", "", context)
    try:
        tapped = tap(request)
        _keep_readings(request, context["asked"], tapped)
        _say(request, task)
        _keep_pictures(request, task, tapped)
    except ShopError as error:
        # What was read just now is kept, whoever may sign.
        task = Task.objects.get(pk=task.pk)
        return refused(request, error, "task/hold.html", "", _context(task))
    return redirect("task-hold", code)


def _keep_pictures(request: HttpRequest, task: Task, tapped: Tap) -> None:
    """A photo stays with the signature; with readings alone, with a line of its own.

    A phone sends the words first; each photo follows to the line of their id.
    """
    if not request.FILES and "photo_follows" not in request.POST:
        return
    entry = LogEntry.objects.filter(client_id=tapped["client_id"]).first()
    if entry is None:
        entry = note(task=task, text="", has_photo=True, **tapped)
    try:
        keep_photos(request, entry=entry)
    except ShopError as error:
        messages.warning(request, f"What you said is kept, the photo is not. {error}")


def _context(task: Task) -> Context:
    facts = take(clock.now())
    fact = facts.task_by_id.get(task.code)
    return {
        "now": clock.now(),
        "task": task,
        "asked": _asked(task),
        "verdict": hold_verdict(task.signings.all()),
        "shut_over": [
            facts.component_by_id[c]
            for c in (kept_open(fact, facts) if fact else ())
            if c in facts.component_by_id
        ],
        "again": [
            again
            for again in must_come_off(facts, fact.build if fact else "")
            if again.hold == task.code
        ],
        "photos": photos_of(task=task),
        "zone": [site.component for site in task.sites.all()],
    }


def _asked(task: Task) -> list[Asked]:
    fails = [
        signing.at
        for signing in task.signings.all()
        if signing.verdict == words.HoldVerdict.FAILED and not signing.is_taken_back
    ]
    since = max(fails, default=None)
    asked = []
    for reading in task.readings.all():
        taken = [t for t in reading.taken.all() if since is None or t.at > since]
        asked.append(
            Asked(reading, max(taken, key=lambda t: (t.at, t.pk), default=None))
        )
    return asked


def _keep_readings(request: HttpRequest, asked: list[Asked], tapped: Tap) -> None:
    """Keep each reading that differs from the latest; one bad one keeps the others."""
    form = Typed(request)
    for one in asked:
        value = _read(form, one)
        if value is None or (one.latest and value == one.latest.value):
            continue
        key = tapped["client_id"]
        take_reading(
            reading=one.reading,
            value=value,
            by=tapped["by"],
            now=tapped["now"],
            at=tapped["at"],
            client_id=f"{key}-{one.reading.number}" if key else None,
        )
    form.refuse_if_wrong()


def _read(form: Typed, one: Asked) -> Decimal | None:
    if one.is_tick:
        ticked = form.is_ticked(one.name)
        # A tick is taken away by those who look at the readings, not by a verdict.
        may_untick = one.latest and form.raw("do") in ("keep", "sign")
        return Decimal(int(ticked)) if ticked or may_untick else None
    seen = form.raw(one.name).replace(",", ".")
    if not seen:
        return None
    try:
        value = Decimal(seen)
    except InvalidOperation:
        form.wrong(one.name, f"{one.reading.label}: “{seen[:40]}” is not a figure.")
        return None
    if not value.is_finite() or abs(value) >= 10**8:
        form.wrong(one.name, f"{one.reading.label}: “{seen[:40]}” is not a figure.")
        return None
    return value


def _say(request: HttpRequest, task: Task) -> None:
    """Sign, fail or waive, as the key says; the plain key keeps the readings only."""
    said = request.POST.get("do", "")
    seen = request.POST.get("seen_version", "")
    about = {
        "task": task,
        "seen_version": int(seen) if seen.isdecimal() and len(seen) < 9 else None,
        **tap(request),
    }
    reason = request.POST.get("reason", "")
    if said == "sign":
        sign_hold(**about)
        messages.info(request, f"{task.code} is signed. What lies over it may go on.")
    elif said == "fail":
        fail_hold(reason=reason, **about)
        messages.info(request, f"{task.code} failed. Nothing may close over it.")
    elif said == "waive":
        waive_hold(reason=reason, **about)
        messages.info(request, f"{task.code} is waived; the reason stays on the sheet.")
    elif said not in ("", "keep"):
        raise BadInput(f"“{said[:20]}” is none of sign, fail, waive.", field="do")
    else:
        messages.info(request, "The readings are kept, unsigned.")
