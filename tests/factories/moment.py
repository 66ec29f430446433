"""The moment of the tests, and what is never the same twice."""

from __future__ import annotations

from datetime import UTC, date, datetime
from string import ascii_uppercase

import factory

MOMENT = datetime(2027, 9, 3, 5, 45, tzinfo=UTC)
TODAY = date(2027, 9, 3)


def letters(number: int) -> str:
    """One to four letters, never the same twice: A ... Z, BA, BB ..."""
    text = ""
    while number or not text:
        number, place = divmod(number, 26)
        text = ascii_uppercase[place] + text
    return text


def client_id() -> factory.Sequence:
    return factory.Sequence(lambda n: f"phone-{n}")
