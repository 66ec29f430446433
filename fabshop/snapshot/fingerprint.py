"""A fingerprint of facts that stays the same while they say the same."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import date, datetime, time
from enum import Enum
from hashlib import sha256


def fingerprint(thing: object) -> str:
    """A hex digest. What a field says by default is not in it.

    So a fact that learns a new field does not change what was kept before it could
    say so. Moments count by their day and hour, whatever class they are of.
    """
    return sha256("".join(_told(thing)).encode()).hexdigest()


def _told(thing: object) -> Iterator[str]:
    if is_dataclass(thing) and not isinstance(thing, type):
        yield f"{type(thing).__name__}("
        for field in fields(thing):
            value = getattr(thing, field.name)
            if not _is_default(field, value):
                yield f"{field.name}="
                yield from _told(value)
        yield ")"
    elif isinstance(thing, Enum):
        yield f"{thing.value!r},"
    elif isinstance(thing, (datetime, date, time)):
        yield f"{thing.isoformat()},"
    elif isinstance(thing, dict):
        yield "{"
        for key in sorted(thing, key=str):
            yield from _told(key)
            yield from _told(thing[key])
        yield "}"
    elif isinstance(thing, (set, frozenset)):
        yield from _listed(sorted(thing, key=str))
    elif isinstance(thing, (list, tuple)):
        yield from _listed(thing)
    else:
        yield f"{thing!r},"


def _listed(things: Iterable[object]) -> Iterator[str]:
    yield "["
    for one in things:
        yield from _told(one)
    yield "]"


def _is_default(field: Field[object], value: object) -> bool:
    if field.default is not MISSING:
        return bool(value == field.default)
    if field.default_factory is not MISSING:
        return bool(value == field.default_factory())
    return False
