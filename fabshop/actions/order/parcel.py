"""One look into one parcel: what was counted of each line, checked and compared."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from fabshop import words
from fabshop.actions import wall
from fabshop.actions.order.owed import line_name, quantity_words
from fabshop.actions.typed import MOST_NUMBER, one_line
from fabshop.errors import BadInput, FieldError, NeedsAnswer
from fabshop.records.order import Order, OrderLine, Receipt
from fabshop.units import show_milli


@dataclass(frozen=True)
class Count:
    """What one parcel held of one line; `why` says what is wrong with the wrong."""

    line: OrderLine
    accepted_milli: int = 0
    wrong_milli: int = 0
    why: words.WrongWhy | str | None = None
    note: str = ""

    @property
    def counted_milli(self) -> int:
        return self.accepted_milli + self.wrong_milli


def refuse_impossible(order: Order, counts: Sequence[Count]) -> None:
    """Refuse counts that cannot be, every one of them by its line."""
    if not counts:
        raise BadInput(
            "No line was counted. Of an empty box, count each line as 0.",
            field="counts",
        )
    errors = tuple(
        FieldError(f"line-{count.line.number}", trouble)
        for count in counts
        if (trouble := _trouble(order, count))
    )
    if errors:
        raise BadInput(
            " ".join(error.message for error in errors),
            field=errors[0].field,
            errors=errors,
        )


def booked_before(counts: Sequence[Count], at: datetime) -> dict[int, Receipt]:
    """The receipts of the same day that counted the same of a line, by its number.

    Two people may book one parcel, or one person twice; two parcels of one day that
    hold the same are rarer. What was taken back since is not counted.
    """
    zone = wall.zone()
    midnight = at.astimezone(zone).replace(hour=0, minute=0, second=0, microsecond=0)
    receipts = Receipt.objects.filter(
        line__in=[count.line for count in counts],
        at__gte=midnight,
        at__lt=(midnight + timedelta(days=1)),
    ).select_related("person", "line")
    taken_back = {
        (receipt.parcel, receipt.line_id)
        for receipt in receipts
        if receipt.kind == words.ReceiptKind.TAKEN_BACK
    }
    found: dict[int, Receipt] = {}
    for receipt in receipts:
        if (receipt.parcel, receipt.line_id) in taken_back:
            continue
        for count in counts:
            if (
                receipt.kind == words.ReceiptKind.COUNTED
                and count.counted_milli
                and receipt.line_id == count.line.pk
                and receipt.accepted_milli == count.accepted_milli
                and receipt.wrong_milli == count.wrong_milli
            ):
                found[count.line.number] = receipt
    return found


def ask_whether_same(found: dict[int, Receipt], at: datetime) -> None:
    """Ask whether what was booked before is this parcel; nothing is guessed."""
    first = found[min(found)]
    who = first.person.name if first.person else "somebody"
    much = quantity_words(first.line, first.counted_milli)
    raise NeedsAnswer(
        f"Already booked: {much} of {line_name(first.line)} by {who} at "
        f"{wall.clock(first.at, beside=at)}. The same parcel, or yours on top?",
        field="same_parcel",
        code="same-parcel",
    )


def _trouble(order: Order, count: Count) -> str:
    line = count.line
    if line.order_id != order.pk:
        return f"{line_name(line)} is not on {order.code}."
    name = line_name(line)
    for milli in (count.accepted_milli, count.wrong_milli):
        if milli < 0:
            return (
                f"{name}: {show_milli(milli)} is less than nothing. "
                "To give pieces back, use Take back."
            )
        if milli > MOST_NUMBER // 2:
            return f"{name}: {show_milli(milli)} is more than can be."
        if line.unit == words.Unit.PIECE and milli % 1000:
            return f"{name}: {show_milli(milli)} is not a whole number of pieces."
    if count.why and count.why not in list(words.WrongWhy):
        return f"{name}: “{count.why}” is not one of hand, hole, size, finish, damage."
    if count.wrong_milli and not count.why:
        return f"{name}: say what is wrong: hand, hole, size, finish or damage."
    one_line(count.note, field=f"line-{line.number}", label="Note", most=200)
    return ""
