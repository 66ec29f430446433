"""What there is to say to whoever has just counted a parcel."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fabshop import words
from fabshop.actions.order.owed import balance, line_name, quantity_words
from fabshop.actions.order.parcel import Count
from fabshop.records.order import Order
from fabshop.records.task import Task

_DONE = (words.TaskState.DONE, words.TaskState.ACCEPTED, words.TaskState.GIVEN_UP)


def count_words(count: Count) -> str:
    """The count as the log keeps it: P02/1 Air duct, L: 1 good, 1 wrong (a hole)."""
    line = count.line
    text = f"{line_name(line)}: {quantity_words(line, count.accepted_milli)} good"
    if count.wrong_milli and count.why:
        why = words.WrongWhy(count.why).label
        text += f", {quantity_words(line, count.wrong_milli)} wrong ({why})"
    return f"{text}. {count.note}".rstrip()


def said_of_order(order: Order, counts: Sequence[Count]) -> Iterator[str]:
    if order.given_up_at is not None:
        yield f"{order} was given up: keep it or send it back."
    elif order.sent_on is None:
        yield f"{order.code} was never marked as sent."
    sent = order.sendings.filter(is_taken_back=False).order_by("at", "id").last()
    held, ours = sent.revision if sent else "", order.file_revision
    if held and ours and held != ours:
        yield f"They hold revision {held}, yours is {ours}."
    if not any(count.counted_milli for count in counts):
        yield "Nothing was in it."


def said_of_lines(counts: Sequence[Count]) -> Iterator[str]:
    for count in counts:
        line, stands = count.line, balance(count.line)
        name = line_name(line)
        if count.wrong_milli and count.why:
            much = quantity_words(line, count.wrong_milli)
            why = words.WrongWhy(count.why).label
            yield f"{name}: {much} to the penalty shelf ({why}). Order again?"
        if stands.owed_milli:
            much = quantity_words(line, stands.owed_milli)
            yield f"{name}: {much} short. Rest coming, refunded, or make it?"
        if stands.over_milli:
            much = quantity_words(line, stands.over_milli)
            yield f"{name}: {much} more than ordered. Keep or give back?"


def said_of_tasks(counts: Sequence[Count]) -> Iterator[str]:
    """Say where what came is wanted by nobody, or by work that is done already."""
    for count in counts:
        if not count.counted_milli:
            continue
        tasks = list(Task.objects.filter(needs__line=count.line).distinct())
        if not tasks:
            yield f"{line_name(count.line)}: no task wants it."
        elif all(task.state in _DONE for task in tasks):
            done = ", ".join(task.code for task in tasks)
            yield (
                f"{line_name(count.line)}: {done} done already. "
                "Swap it in, keep it as a spare, or send it back."
            )
