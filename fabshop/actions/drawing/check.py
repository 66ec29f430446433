"""Dimensions measured on what came: the verdict is reckoned, a person decides."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.log.entry import new_client_id, once, write_entry
from fabshop.actions.moved import Before
from fabshop.actions.order.locked import locked_order
from fabshop.actions.order.owed import balance, line_name, pass_move_on
from fabshop.actions.order.receipt import write_receipt
from fabshop.actions.order.take_back import take_back
from fabshop.actions.shop import require
from fabshop.actions.typed import number, one_line, some_line
from fabshop.errors import BadInput, Clash
from fabshop.reckoning.drawing.verdict import allowed_words, off_by_um, verdict
from fabshop.records.drawing import CheckDecision, MeasuredCheck
from fabshop.records.log import LogEntry
from fabshop.records.order import OrderLine, Receipt
from fabshop.records.shop import Person
from fabshop.reference.tolerance import deviation
from fabshop.units import show_length

# Ten metres: longer than any table goes.
MOST_UM = 10_000_000


def _check_of(entry: LogEntry) -> MeasuredCheck:
    return MeasuredCheck.objects.get(pk=entry.before["check"])


def _decision_of(entry: LogEntry) -> CheckDecision:
    return CheckDecision.objects.get(pk=entry.before["decision"])


def limits_of(
    tolerance: words.Tolerance,
    nominal_um: int,
    thickness_um: int | None = None,
    lower_um: int | None = None,
    upper_um: int | None = None,
) -> tuple[int, int, str]:
    """Lower and upper deviation and where they are from.

    Refused where the standard says nothing for the size, or the thickness is missing.
    """
    if tolerance is words.Tolerance.LIMITS:
        if lower_um is None or upper_um is None:
            raise BadInput(
                "Limits of my own: write how far below and above it may be.",
                field="lower",
            )
        if lower_um > upper_um:
            raise BadInput(
                f"The lower limit {show_length(lower_um)} lies above the upper one "
                f"{show_length(upper_um)}.",
                field="lower",
            )
        return lower_um, upper_um, "limits of my own"
    thermal = tolerance in (words.Tolerance.THERMAL_1, words.Tolerance.THERMAL_2)
    if thermal and not thickness_um:
        raise BadInput(
            f"{tolerance.label} goes by thickness: say how thick it is.",
            field="thickness",
        )
    row = deviation(tolerance, nominal_um, thickness_um)
    if row is None:
        thick = f" at {show_length(thickness_um)}" if thermal and thickness_um else ""
        raise BadInput(
            f"{tolerance.label} says nothing for {show_length(nominal_um)}{thick}. "
            "Give limits of your own.",
            field="tolerance",
        )
    return -row.deviation_um, row.deviation_um, row.source


@once(words.EntryKind.MEASURED, first=_check_of)
def measure_check(
    *,
    by: Person,
    line: OrderLine,
    label: str,
    nominal_um: int,
    reading_um: int,
    now: datetime,
    tolerance: words.Tolerance | str = words.Tolerance.MEDIUM,
    thickness_um: int | None = None,
    lower_um: int | None = None,
    upper_um: int | None = None,
    receipt: Receipt | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
) -> MeasuredCheck:
    """Keep one reading with the limits it was held against and what it comes to."""
    require(by, "write")
    order = locked_order(line.order)
    if tolerance not in list(words.Tolerance):
        raise BadInput(f"“{tolerance}” is no tolerance here.", field="tolerance")
    tolerance = words.Tolerance(tolerance)
    for field, name, value in (
        ("nominal", "Drawn", nominal_um),
        ("reading", "Measured", reading_um),
    ):
        number(value, field=field, label=f"{name} in µm", most=MOST_UM)
    if receipt is not None and receipt.line_id != line.pk:
        raise BadInput("That parcel was not of this line.", field="receipt")
    thickness_um = thickness_um or line.thickness_um
    low, high, source = limits_of(
        tolerance, nominal_um, thickness_um, lower_um, upper_um
    )
    found = verdict(
        nominal_um=nominal_um, lower_um=low, upper_um=high, reading_um=reading_um
    )
    check = MeasuredCheck.objects.create(
        line=line,
        receipt=receipt,
        label=some_line(label, field="label", label="What", most=80),
        tolerance=tolerance,
        thickness_um=thickness_um,
        nominal_um=nominal_um,
        lower_um=low,
        upper_um=high,
        reading_um=reading_um,
        verdict=found,
        source=source,
        person=by,
        at=at or now,
        client_id=client_id or new_client_id(),
    )
    write_entry(
        kind=words.EntryKind.MEASURED,
        by=by,
        now=now,
        at=at,
        client_id=check.client_id,
        order=order,
        text=f"{line_name(line)}: {said_of_check(check)}",
        before={"check": check.pk},
    )
    return check


@once(words.EntryKind.MEASURED, first=_decision_of)
def decide_check(
    *,
    by: Person,
    check: MeasuredCheck,
    how: words.CheckDecision | str,
    now: datetime,
    reason: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> CheckDecision:
    """Say what becomes of a piece that was measured; said again, the latest holds.

    To the penalty shelf: one accepted piece of the line goes there, if one was booked.
    """
    require(by, "write")
    order = locked_order(check.line.order)
    if how not in list(words.CheckDecision):
        raise BadInput("Accepted, penalty shelf, or live with it?", field="how")
    how = words.CheckDecision(how)
    reason = one_line(reason, field="reason", label="Reason", most=200)
    if how is words.CheckDecision.LIVE_WITH and not reason:
        raise BadInput("Live with it: say why, for whoever fits it.", field="reason")
    last = check.decisions.order_by("at", "id").last()
    if last is not None and last.how == how and how is words.CheckDecision.PENALTY:
        raise Clash("It lies on the penalty shelf already.", code="is-decided")
    before: Before = {}
    if how is words.CheckDecision.PENALTY:
        _to_the_shelf(check, by, at or now, before)
        pass_move_on(order, before)
    decision = CheckDecision.objects.create(
        check_made=check,
        how=how,
        reason=reason,
        person=by,
        at=at or now,
        client_id=client_id or new_client_id(),
    )
    write_entry(
        kind=words.EntryKind.MEASURED,
        by=by,
        now=now,
        at=at,
        client_id=decision.client_id,
        order=order,
        text=f"{line_name(check.line)}: {check.label} {how.label}"
        + (f": {reason}" if reason else ""),
        before=before | {"decision": decision.pk},
    )
    return decision


def said_of_check(check: MeasuredCheck) -> str:
    """Width 40.4 mm, drawn 40 ±0.3 mm: too big by 0.1 mm."""
    allowed = allowed_words(check.nominal_um, check.lower_um, check.upper_um)
    off = off_by_um(
        nominal_um=check.nominal_um,
        lower_um=check.lower_um,
        upper_um=check.upper_um,
        reading_um=check.reading_um,
    )
    found = words.CheckVerdict(check.verdict).label
    by = f" by {show_length(abs(off))}" if off else ""
    return (
        f"{check.label} {show_length(check.reading_um)}, drawn {allowed}: {found}{by}"
    )


def _to_the_shelf(
    check: MeasuredCheck, by: Person, at: datetime, before: Before
) -> None:
    """Move one accepted piece of the line over: taken back, and counted as wrong."""
    line = check.line
    if line.unit != words.Unit.PIECE or balance(line).accepted_milli < 1000:
        return
    counted = line.receipts.filter(kind=words.ReceiptKind.COUNTED, accepted_milli__gt=0)
    for receipt in counted.order_by("-at", "-id"):
        try:
            take_back(receipt, 1000, 0, by=by, at=at, note=f"Measured: {check.label}")
        except (BadInput, Clash):
            continue  # all of that parcel was taken back before
        wrong = write_receipt(
            line,
            by=by,
            at=at,
            parcel=receipt.parcel,
            wrong_milli=1000,
            wrong_why=words.WrongWhy.SIZE,
            note=said_of_check(check)[:200],
        )
        before["shelved"] = wrong.pk
        return
