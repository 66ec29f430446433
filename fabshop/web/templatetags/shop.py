"""How the shop writes things: stamps, days with their weekday, minutes, fields."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from datetime import timezone as fixed_zone
from typing import Any
from uuid import uuid4

from django import template
from django.template import Context
from django.urls import reverse
from django.utils import timezone
from django.utils.html import escape, format_html
from django.utils.safestring import SafeString, mark_safe

from fabshop import clock, units, words
from fabshop.errors import NeedsAnswer, ShopError
from fabshop.reckoning.readiness import Reason
from fabshop.records.log import LogEntry, Timer

register = template.Library()

PLACES = (
    ("/", "What now", ("now",)),
    ("/log/", "Shop log", ("log", "draft")),
    ("/orders/", "On&nbsp;the way", ("order", "goods", "supplier")),
    ("/builds/", "Fitted", ("build", "component", "task")),
    ("/teardown/", "Teardown", ("plan",)),
)

# What a question's Yes key sends and says; the code is the refusal's own.
YES = {
    "two-timers": ("switch", "Yes, stop that and start this"),
    "somebody-is-on-it": ("join", "Join in"),
    "angle-or-dial": ("confirm", "It is the angle between, as typed"),
    "still-on-it": ("confirm", "All that time is right"),
    "machine-is-on": ("confirm", "Start this as well"),
    "drawing-doubtful": ("confirm", "It is right: sent"),
}


@register.simple_tag
def stamp(word: words.Word | str, label: str = "") -> SafeString:
    """A state as a word in a box; its edge says the same on paper and phone."""
    edge = word.edge if isinstance(word, words.Word) else "solid"
    shown = label or (word.label if isinstance(word, words.Word) else word)
    return format_html('<span class="stamp stamp--{}">{}</span>', edge, shown)


@register.filter
def as_word(value: str, kind: str) -> words.Word:
    """The word behind a stored value: `{% stamp row.state|as_word:"TaskState" %}`."""
    return getattr(words, kind)(value)


@register.filter
def label(value: str, kind: str) -> str:
    """What is shown for a stored value: `{{ order.kind|label:"OrderKind" }}`."""
    return as_word(value, kind).label


@register.filter
def order_of(line: str) -> str:
    """The order that a line is on: `P02/1` is on P02."""
    return line.partition("/")[0]


@register.filter
def day(value: date | datetime | None) -> str:
    """Fri 3 Sep, with the year where it is not this one."""
    if value is None:
        return ""
    on = local(value).date() if isinstance(value, datetime) else value
    year = "" if on.year == local(clock.now()).year else f" {on.year}"
    return f"{units.show_day(on)}{year}"


@register.filter
def wanted(value: date | None) -> str:
    """Since when a part is wanted: nothing is late before its promised day."""
    if value is None:
        return ""
    if value <= local(clock.now()).date():
        return f"wanted since {day(value)}"
    return f"first promised for {day(value)}"


@register.filter
def linked(reason: Reason) -> SafeString:
    """The sentence of what is in the way, each code in it leading to its page."""
    pages = {order_of(line): "order" for line in reason.lines}
    pages |= dict.fromkeys(reason.components, "component")
    pages |= dict.fromkeys(reason.tasks, "task")
    pages |= dict.fromkeys(reason.pieces, "piece")
    sentence, unsaid = escape(reason.sentence), []
    for code, page in pages.items():
        link = format_html('<a href="{}">{}</a>', reverse(page, args=[code]), code)
        found = re.compile(rf"(?<![\w>]){re.escape(code)}(?![\w<])")
        sentence, count = found.subn(lambda _, link=link: link, sentence, count=1)
        unsaid += [] if count else [link]
    return mark_safe(" ".join([sentence, *unsaid]))  # both parts are escaped above


@register.filter
def about(entry: LogEntry) -> tuple[str, str] | None:
    """Code and name of what a line of the log is about; None where its text says so."""
    if thing := entry.task or entry.order:
        found = thing.code, thing.title
    elif entry.component:
        found = entry.component.code, entry.component.name
    else:
        return ("", entry.build.name) if entry.build else None
    code = re.escape(found[0])
    return None if re.search(rf"(?<!\w){code}(?!\w)", entry.text) else found


@register.filter
def moment(value: datetime | None) -> str:
    """Fri 3 Sep 18:00 in the shop's zone."""
    return f"{day(value)} {time(value)}" if value else ""


@register.filter
def time(value: datetime | None) -> str:
    """18:00 in the shop's zone."""
    return f"{local(value):%H:%M}" if value else ""


@register.filter
def clock_time(minute: int | None) -> str:
    """A minute of the day as 18:00."""
    return "" if minute is None else f"{minute // 60:02d}:{minute % 60:02d}"


@register.filter
def minutes(value: int | None) -> str:
    return "minutes unknown" if value is None else units.show_minutes(int(value))


@register.filter
def milli(value: int | None, unit: str = "") -> str:
    """Thousandths as a quantity, `0.4 m²`; pieces are counted without a unit."""
    if value is None:
        return ""
    return units.show_quantity(value, words.Unit(unit) if unit else words.Unit.PIECE)


@register.filter
def mm(value: int | None, wide: int | None = None) -> str:
    """Micrometres as `6.35 mm`; a size with its width as `300 × 200 mm`."""
    if value is None:
        return ""
    if wide is not None:
        return units.show_sizes(value, wide)
    return units.show_length(value)


@register.filter
def grams(mass_mg: int) -> str:
    """Milligrams as a scale of the shop shows them: `98.4 g`."""
    return f"{mass_mg / 1000:.1f} g"


def local(value: datetime) -> datetime:
    """`value` in the shop's zone; a naive one is on the plan's clock of this moment."""
    if value.tzinfo is None:
        offset = timezone.localtime(clock.now()).utcoffset() or timedelta(0)
        value = value.replace(tzinfo=fixed_zone(offset))
    return timezone.localtime(value)


@register.inclusion_tag("web/_places.html", takes_context=True)
def places(context: Context) -> dict[str, Any]:
    request = context.get("request")
    match = getattr(request, "resolver_match", None)
    noun = (match.url_name or "").split("-")[0] if match else ""
    return {
        "places": [(path, name, noun in nouns) for path, name, nouns in PLACES],
        "may_write": request is not None and request.user.may_write,
    }


@register.inclusion_tag("web/_running.html", takes_context=True)
def running(context: Context) -> dict[str, Any]:
    """What the person who looks is on, with a stop as wide as the screen."""
    person = context["request"].user
    timers = Timer.objects.select_related("start__task")
    return {
        "timer": timers.filter(person=person).first(),
        "stuck_on": words.StuckOn.choices(),
        "csrf_token": context.get("csrf_token"),
    }


@register.inclusion_tag("web/_once.html", takes_context=True)
def once(context: Context) -> dict[str, Any]:
    """What every form carries: the token, and an id that makes a second tap harmless.

    Never the id of a form that was refused: that one was not written.
    """
    return {
        "csrf_token": context.get("csrf_token"),
        "client_id": uuid4(),
        "draft": context.get("draft"),
    }


@register.inclusion_tag("web/_field.html", takes_context=True)
def field(
    context: Context,
    name: str,
    label: str,
    kind: str = "text",
    value: Any = "",
    hint: str = "",
    options: Any = (),
    **attributes: Any,
) -> dict[str, Any]:
    """One thing asked for: its label, what was wrong with it, and where to write it.

    `kind`: an input type, or `area`, `select`, `keys` (big radio keys), `check`.
    `options` are (value, label) pairs. What was typed before a refusal comes back.
    """
    error, typed = context.get("error"), context.get("typed")
    if typed and kind != "password":
        value = typed.get(name, "" if kind != "check" else None)
    if isinstance(value, datetime):
        value = f"{local(value):%Y-%m-%dT%H:%M}"
    elif isinstance(value, date):
        value = value.isoformat()
    return {
        "name": name,
        "label": label,
        "kind": kind,
        "value": "" if value is None else value,
        "hint": hint,
        "options": [(str(v), text) for v, text in options],
        # A long word does not fit on a narrow key.
        "is_wide": any(len(text) > 8 for _, text in options),
        "chosen": "" if value is None else str(value),
        "error": _sentence(error, name),
        # Two forms on a page may ask for the same thing.
        "id": f"{attributes.pop('id', '')}{name}",
        "attributes": {k.replace("_", "-"): v for k, v in attributes.items()},
    }


@register.inclusion_tag("web/_refusal.html", takes_context=True)
def refusal(context: Context, *names: str) -> dict[str, Any]:
    """The refusal on top of its form, where none of the named fields shows it itself.

    A question gets its keys here: the form is sent again with the answer.
    """
    error = context.get("error")
    shown = [e.message for e in error.errors if e.field in names] if error else []
    known = {
        "error": error,
        "sentence": error.message if error and error.message not in shown else "",
        "draft": context.get("draft"),
    }
    if isinstance(error, NeedsAnswer):
        known["answer"], known["yes"] = YES.get(
            error.code, ("confirm", "Yes, so it is")
        )
        if error.field == "ended_at":
            known["ends"] = _last_hours()
    return known


def _last_hours() -> list[datetime]:
    """The full hours just gone, the latest first."""
    hour = local(clock.now()).replace(minute=0, second=0, microsecond=0)
    return [hour - timedelta(hours=back) for back in range(4)]


def _sentence(error: ShopError | None, name: str) -> str:
    found = [e.message for e in error.errors if e.field == name] if error else []
    return " ".join(found)
