"""Turns plain data into typed questions, or says by path what is wrong with it."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import Any, NoReturn, TypeVar

import msgspec

from fabshop.errors import BadQuestion

_EPOCH = datetime(1, 1, 1)
_MOMENT = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}")
_AT = re.compile(r" - at `(key in )?\$(?P<path>.*)`$")
_UNKNOWN = re.compile(r"Object contains unknown field `(?P<field>.*)`$")
_MISSING = re.compile(r"Object missing required field `(?P<field>.*)`$")
_EXPECTED = re.compile(r"Expected `(?P<wanted>[^`]*)`, got `(?P<got>[^`]*)`$")
_BOUND = re.compile(r"Expected `(int|float)` (?P<sign>[<>]=?) (?P<bound>\S+)$")
_LENGTH = re.compile(
    r"Expected `(?P<kind>array|str)` of length (?P<sign>[<>]=)? ?(?P<bound>\d+)"
)
_CHOICE = re.compile(r"Invalid enum value (?P<given>.*)$")
_SIGNS = {">=": "at least", "<=": "at most", ">": "more than", "<": "less than"}
_WORDS = {
    "int": "a whole number",
    "float": "a number",
    "str": "a text",
    "bool": "true or false",
    "array": "a list",
    "object": "an object",
    "null": "nothing (null)",
}

T = TypeVar("T")
Moment = str  # local ISO 8601 to the minute, checked by `minute_of`


def refuse(path: str, sentence: str) -> NoReturn:
    """Refuses the question in one line that begins with the field's path."""
    where = path or "question"
    raise BadQuestion(f"{where}: {' '.join(sentence.split())}", field=where)


def typed(question: object, shape: type[T]) -> T:
    """`question` as a `shape`, every field known and of its type, or BadQuestion."""
    try:
        return msgspec.convert(question, shape, strict=True)
    except (msgspec.ValidationError, RecursionError) as error:
        _refuse_in_our_words(str(error))
    except UnicodeEncodeError:
        # Half of a surrogate pair, as JSON may hold it; it cannot even be quoted.
        path = half_a_character(question, "")
        refuse(path or "", "a text holds half a character, which nothing can print")


def half_a_character(thing: object, path: str) -> str | None:
    """Where the first text stands that no encoding can write; None: nowhere."""
    if isinstance(thing, str):
        return path if any("\ud800" <= mark <= "\udfff" for mark in thing) else None
    within: list[tuple[str, object]] = []
    if isinstance(thing, dict):
        for name, value in thing.items():
            if half_a_character(name, path) is not None:
                return path
            within.append((f"{path}.{name}" if path else f"{name}", value))
    elif isinstance(thing, list | tuple):
        within = [(f"{path}[{index}]", value) for index, value in enumerate(thing)]
    for where, value in within:
        if (found := half_a_character(value, where)) is not None:
            return found
    return None


def _refuse_in_our_words(told: str) -> NoReturn:
    at = _AT.search(told)
    path = at["path"].lstrip(".") if at else ""
    told = told[: at.start()] if at else told
    for pattern, sentence in ((_UNKNOWN, "unknown field"), (_MISSING, "missing")):
        if found := pattern.match(told):
            field = found["field"]
            refuse(f"{path}.{field}" if path else field, sentence)
    if found := _EXPECTED.match(told):
        refuse(path, f"expected {_words(found['wanted'])}, got {_words(found['got'])}")
    if found := _BOUND.match(told):
        refuse(path, f"must be {_SIGNS[found['sign']]} {found['bound']}")
    if found := _LENGTH.match(told):
        unit = "entries" if found["kind"] == "array" else "characters"
        how_many = _SIGNS.get(found["sign"] or "", "exactly")
        refuse(path, f"must have {how_many} {found['bound']} {unit}")
    if found := _CHOICE.match(told):
        refuse(path, f"{found['given']} is none of the words that may stand here")
    refuse(path, told[:1].lower() + told[1:].replace("`", "'"))


def _words(kinds: str) -> str:
    return " or ".join(_WORDS.get(kind, kind) for kind in kinds.split(" | "))


def minute_of(moment: Moment, path: str = "") -> int:
    """Clock minutes since a fixed day; the moment has no seconds and no zone."""
    if not _MOMENT.fullmatch(moment):
        refuse(path, f"{moment[:40]!r} is not a time like 2031-05-05T18:00")
    try:
        since = datetime.fromisoformat(moment) - _EPOCH
    except ValueError:
        refuse(path, f"{moment!r} is no time of any calendar")
    return since // timedelta(minutes=1)


def moment_of(minute: int) -> Moment:
    """The reverse of `minute_of`."""
    return (_EPOCH + timedelta(minutes=minute)).isoformat(timespec="minutes")


def unique_ids(things: Any, path: str, noun: str) -> dict[str, int]:
    """Where each id stands in its list; empty, unprintable or repeated is refused."""
    places: dict[str, int] = {}
    for index, thing in enumerate(things):
        where = f"{path}[{index}].id"
        if not thing.id.strip() or not thing.id.isprintable():
            refuse(where, "an id is a printable text, not empty")
        if thing.id in places:
            first = f"{path}[{places[thing.id]}]"
            refuse(where, f"{noun} {thing.id!r} is already {first}")
        places[thing.id] = index
    return places


def known(names: Any, places: dict[str, int], path: str, noun: str) -> None:
    """Every name stands in `places`, or the first that does not is refused."""
    for index, name in enumerate(names):
        if name not in places:
            refuse(f"{path}[{index}]", f"no {noun} {name!r}")


def ordered_windows(windows: Any, path: str = "windows") -> None:
    """Each window ends after it starts and starts no sooner than the last ended."""
    last_end = None
    for index, (start, end) in enumerate(windows):
        start_minute = minute_of(start, f"{path}[{index}][0]")
        end_minute = minute_of(end, f"{path}[{index}][1]")
        if end_minute <= start_minute:
            refuse(f"{path}[{index}][1]", f"{end} is not after the start {start}")
        if last_end is not None and start_minute < last_end:
            refuse(
                f"{path}[{index}][0]",
                f"{start} is before the end of the window before it, "
                f"{moment_of(last_end)}",
            )
        last_end = end_minute


def a_loop(after: list[list[int]]) -> list[int]:
    """A shortest loop in "comes after" as indexes, first one again at the end."""
    best: list[int] = []
    for start in range(len(after)):
        found = _way_back(start, after, len(best) or len(after) + 2)
        if found and (not best or len(found) < len(best)):
            best = found
    return best


def _way_back(start: int, after: list[list[int]], shorter_than: int) -> list[int]:
    came_from: dict[int, int] = {}
    ring = [start]
    for _ in range(shorter_than - 1):
        following = []
        for here in ring:
            for there in after[here]:
                if there == start:
                    way = [start, here]
                    while way[-1] != start:
                        way.append(came_from[way[-1]])
                    return way[::-1]
                if there not in came_from:
                    came_from[there] = here
                    following.append(there)
        ring = following
    return []
