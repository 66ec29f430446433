"""What was typed, made fit to be kept: no NUL, within bounds, or refused by name."""

from __future__ import annotations

import re

from fabshop.errors import BadInput

MOST_TEXT = 20_000
# What the column holds on both databases.
MOST_NUMBER = 2_000_000_000

_CODE = re.compile(r"[A-Za-z0-9_-]{1,40}")


def kept_text(text: str) -> tuple[str, str]:
    """Return the text as it can be kept, and what was left out of it ("" = nothing).

    Nothing that a person typed is refused here: a text past the limit keeps its
    beginning, NUL bytes and halves of characters cannot be stored and go.
    """
    notices = []
    clean = text.replace("\x00", "")
    if nuls := len(text) - len(clean):
        notices.append(f"{nuls} NUL byte{'s' * (nuls > 1)} left out.")
    whole = clean.encode("utf-8", "ignore").decode("utf-8")
    if halves := len(clean) - len(whole):
        notices.append(f"{halves} broken character{'s' * (halves > 1)} left out.")
    if len(whole) > MOST_TEXT:
        notices.append(
            f"The first {MOST_TEXT} of {len(whole)} characters are kept; "
            "write the rest as another line."
        )
    return whole[:MOST_TEXT], " ".join(notices)


def one_line(text: str, *, field: str, label: str, most: int) -> str:
    """Return `text` on one line without NULs; refuse it when it is too long."""
    line = " ".join(kept_text(text)[0].split())
    if len(line) > most:
        raise BadInput(
            f"{label}: {len(line)} characters, but at most {most} fit. Shorten it.",
            field=field,
        )
    return line


def some_line(text: str, *, field: str, label: str, most: int) -> str:
    """Like `one_line`, and refuse it when nothing is left."""
    line = one_line(text, field=field, label=label, most=most)
    if not line:
        raise BadInput(f"{label}: nothing is written.", field=field)
    return line


def code(text: str, *, field: str = "code", label: str = "Code") -> str:
    """Return a code fit for addresses and labels: letters, digits, - and _."""
    if not _CODE.fullmatch(text):
        raise BadInput(
            f"{label}: “{text[:40]}” will not do. Use up to 40 letters, digits, "
            "- and _, like W14.",
            field=field,
        )
    return text


def number(value: int, *, field: str, label: str, most: int = MOST_NUMBER) -> int:
    """Return `value`; refuse it below nothing or above `most`."""
    if value < 0:
        raise BadInput(
            f"{label}: {value} is less than nothing. Write 0 or more.", field=field
        )
    if value > most:
        raise BadInput(f"{label}: {value} is more than {most}.", field=field)
    return value
