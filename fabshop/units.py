"""Figures as people write them, read into whole minutes, thousandths and days.

Everything is kept as whole numbers: minutes, thousandths of a line's unit,
milligrams, micrometres. `field` is the name of what was typed, `label` what the page
calls it; both go into the refusal, with the text as it was seen.
"""

from __future__ import annotations

import re
from datetime import date, datetime
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction

from fabshop import words
from fabshop.errors import BadInput

MASS_MG = {
    "mg": Decimal(1),
    "g": Decimal(1000),
    "kg": Decimal(1_000_000),
    # avoirdupois, exact by the 1959 agreement: 1 lb = 0.45359237 kg
    "oz": Decimal("28349.523125"),
    "lb": Decimal("453592.37"),
}
LENGTH_UM = {
    "um": Fraction(1),
    "mm": Fraction(1000),
    "cm": Fraction(10_000),
    "m": Fraction(1_000_000),
    # exact by the 1959 agreement: 1 in = 25.4 mm
    "in": Fraction(25_400),
    '"': Fraction(25_400),
}

_NUMBER = r"[+-]?\d+(?:[.,]\d+)?"
_HOURS = re.compile(rf"({_NUMBER})\s*h(?:\s*(\d{{1,2}})\s*(?:min|m)?)?", re.IGNORECASE)
_CLOCK = re.compile(r"(\d{1,3}):([0-5]\d)")
_MINUTES = re.compile(rf"({_NUMBER})\s*(?:min|m)?", re.IGNORECASE)
_WITH_UNIT = re.compile(rf"({_NUMBER})\s*([a-z]*)", re.IGNORECASE)
_LENGTH = re.compile(
    rf"(?:({_NUMBER})|(?:(\d+)\s+)?(\d+)/(\d+))\s*([a-z\"]*)", re.IGNORECASE
)
# A sheet or a wall as the trade calls it: 040 in is forty thousandths of an inch.
_GAUGE = re.compile(r"0\d{2,3}")
_BARE_FRACTION = re.compile(r"(?:\d+\s+)?\d+/\d+")
_UNIT_LAST = re.compile(r"[a-z\"]+$", re.IGNORECASE)
_BETWEEN = re.compile(r"[x×*]", re.IGNORECASE)
_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = (
    *("Jan", "Feb", "Mar", "Apr", "May", "Jun"),
    *("Jul", "Aug", "Sep", "Oct", "Nov", "Dec"),
)
_DAY_FIRST = re.compile(r"(\d{1,2})[./](\d{1,2})[./](\d{4})")

# A figure past this is a slip of the finger, and would not fit its column.
_MOST_MILLI = 2_000_000_000
_MOST_MINUTES = 1_000_000


def parse_minutes(text: str, *, field: str, label: str = "") -> int | None:
    """Read `70`, `70 min`, `1 h 10`, `1,5 h` or `1:10`; None where nothing is said."""
    name, seen = label or field, text.strip()
    if not seen:
        return None
    if clock := _CLOCK.fullmatch(seen):
        minutes = Decimal(int(clock[1]) * 60 + int(clock[2]))
    elif hours := _HOURS.fullmatch(seen):
        minutes = _number(hours[1]) * 60 + int(hours[2] or 0)
    elif plain := _MINUTES.fullmatch(seen):
        minutes = _number(plain[1])
    else:
        raise BadInput(
            f"{name}: “{_short(seen)}” is not a time. Write minutes like 70, "
            "or 1 h 10.",
            field=field,
        )
    if minutes < 0:
        raise BadInput(
            f"{name}: {_short(seen)} is less than nothing. Write 0 or more.",
            field=field,
        )
    if minutes > _MOST_MINUTES:
        raise BadInput(
            f"{name}: {_short(seen)} is more than any job takes.", field=field
        )
    return int(minutes.quantize(Decimal(1), ROUND_HALF_EVEN))


def parse_milli(text: str, *, field: str, label: str = "") -> int:
    """Read a quantity like `14`, `0,4` or `0.25` into thousandths, exactly."""
    name, seen = label or field, text.strip()
    if not re.fullmatch(_NUMBER, seen):
        what = f"“{_short(seen)}” is not a number" if seen else "nothing is written"
        raise BadInput(f"{name}: {what}. Write one like 14 or 0.4.", field=field)
    milli = _number(seen) * 1000
    if milli != milli.to_integral_value():
        raise BadInput(
            f"{name}: {_short(seen)} is finer than thousandths.", field=field
        )
    if abs(milli) > _MOST_MILLI:
        raise BadInput(f"{name}: {_short(seen)} is more than can be.", field=field)
    return int(milli)


def parse_mass_mg(text: str, *, field: str, label: str = "") -> int | None:
    """Read `118`, `118 g`, `0,5 kg` or `14 oz` into milligrams; plain means grams."""
    name, seen = label or field, text.strip()
    if not seen:
        return None
    found = _WITH_UNIT.fullmatch(seen)
    unit = (found[2] or "g").lower() if found else ""
    if not found or unit not in MASS_MG:
        raise BadInput(
            f"{name}: “{_short(seen)}” is not a mass. Write grams like 118, "
            "or 0.5 kg, or 14 oz.",
            field=field,
        )
    mass_mg = _number(found[1]) * MASS_MG[unit]
    if not 0 <= mass_mg <= _MOST_MILLI:
        raise BadInput(
            f"{name}: {_short(seen)} is not between 0 g and 2000 kg.", field=field
        )
    return int(mass_mg.quantize(Decimal(1), ROUND_HALF_EVEN))


def parse_length_um(text: str, *, field: str, label: str = "") -> int | None:
    """Read `218`, `6,35 mm`, `1 1/4 in` or `040 in` into micrometres; plain means mm.

    Inches written with a leading nought and no point stand behind one: 040 is .040.
    """
    name, seen = label or field, text.strip()
    if not seen:
        return None
    found = _LENGTH.fullmatch(seen)
    unit = (found[5] or "mm").lower() if found else ""
    if not found or unit not in LENGTH_UM or (found[4] and int(found[4]) == 0):
        raise BadInput(
            f"{name}: “{_short(seen)}” is not a length. Write millimetres like 218, "
            "or 1/4 in.",
            field=field,
        )
    if found[1]:
        number = Fraction(_number(found[1]))
        if LENGTH_UM[unit] == LENGTH_UM["in"] and _GAUGE.fullmatch(found[1]):
            number /= 10 ** len(found[1])
    else:
        number = Fraction(int(found[2] or 0)) + Fraction(int(found[3]), int(found[4]))
    length_um = round(number * LENGTH_UM[unit])
    if abs(length_um) > _MOST_MILLI:
        raise BadInput(f"{name}: {_short(seen)} is longer than 2 km.", field=field)
    return length_um


def parse_sizes_um(
    text: str, *, count: int, field: str, label: str = ""
) -> tuple[int, ...] | None:
    """Read `8x0.9`, `300 x 400 mm`, `1/4 x 0.035 in` or `040` into micrometres.

    As the trade writes sizes: a bare fraction is inches, three or four figures that
    begin with a nought are thousandths of an inch, anything else millimetres. A unit
    at the end speaks for those before it. None where nothing is said.
    """
    name, seen = label or field, text.strip()
    if not seen:
        return None
    parts = [part.strip() for part in _BETWEEN.split(seen)]
    if len(parts) != count:
        shown = " x ".join(("8", "0.9", "20")[:count])
        raise BadInput(
            f"{name}: “{_short(seen)}” has {len(parts)} measure"
            f"{'s' * (len(parts) != 1)}, but {count} are asked. Write them like "
            f"{shown}.",
            field=field,
        )
    last = _UNIT_LAST.search(parts[-1])
    unit = last[0] if last and any(sign.isdigit() for sign in parts[-1]) else ""
    return tuple(_size_um(part, unit, seen, field, name) for part in parts)


def _size_um(part: str, unit: str, seen: str, field: str, name: str) -> int:
    if not _UNIT_LAST.search(part):
        if unit:
            part = f"{part} {unit}"
        elif _BARE_FRACTION.fullmatch(part) or _GAUGE.fullmatch(part):
            part = f"{part} in"
    length_um = parse_length_um(part, field=field, label=name)
    if length_um is None or length_um <= 0:
        raise BadInput(
            f"{name}: “{_short(seen)}” has a measure of nothing. Each is more than 0.",
            field=field,
        )
    return length_um


def parse_day(text: str, *, field: str, label: str = "") -> date | None:
    """Read `2027-09-18`, `18.9.2027` or `18/9/2027`; None where nothing is said."""
    name, seen = label or field, text.strip()
    if not seen:
        return None
    try:
        if day_first := _DAY_FIRST.fullmatch(seen):
            return date(int(day_first[3]), int(day_first[2]), int(day_first[1]))
        return date.fromisoformat(seen)
    except ValueError:
        raise BadInput(
            f"{name}: “{_short(seen)}” is not a day. Write it like 2027-09-18.",
            field=field,
        ) from None


def parse_whole(
    text: str, *, field: str, label: str = "", most: int = 32_000
) -> int | None:
    """Read a whole number from 0 to `most`; None where nothing is said."""
    name, seen = label or field, text.strip()
    if not seen:
        return None
    if not re.fullmatch(r"[+-]?\d{1,12}", seen) or not 0 <= int(seen) <= most:
        raise BadInput(
            f"{name}: “{_short(seen)}” is not a whole number from 0 to {most}.",
            field=field,
        )
    return int(seen)


def show_minutes(minutes: int) -> str:
    """Show 70 as `1 h 10`, 60 as `1 h`, 57 as `57 min`, below nothing with a sign."""
    sign, whole = ("−" if minutes < 0 else ""), abs(minutes)
    if whole < 60:
        return f"{sign}{whole} min"
    return f"{sign}{whole // 60} h" + (f" {whole % 60:02d}" if whole % 60 else "")


def show_milli(milli: int) -> str:
    """Show thousandths without tailing noughts: 400 is `0.4`, 14000 is `14`."""
    whole = Decimal(milli) / 1000
    return f"{whole:f}".rstrip("0").rstrip(".") if milli % 1000 else str(milli // 1000)


def show_mass(mass_mg: int) -> str:
    """Show milligrams as grams: 118000 is `118 g`, 500 is `0.5 g`."""
    return f"{show_milli(mass_mg)} g"


def show_length(length_um: int) -> str:
    """Show micrometres as millimetres: 6350 is `6.35 mm`, -34000 is `−34 mm`."""
    return f"{'−' if length_um < 0 else ''}{show_milli(abs(length_um))} mm"


def show_sizes(*sizes_um: int) -> str:
    """Show what was read, for a person to check: `8 × 0.9 mm`."""
    return f"{' × '.join(show_milli(size) for size in sizes_um)} mm"


def show_quantity(milli: int, unit: words.Unit) -> str:
    """Show 400 of a square metre as `0.4 m²`; pieces stand without a unit."""
    if unit is words.Unit.PIECE:
        return show_milli(milli)
    return f"{show_milli(milli)} {unit.label}"


def show_day(on: date) -> str:
    """Show a day with its weekday, in any language setting: `Thu 16 Sep`."""
    return f"{_WEEKDAYS[on.weekday()]} {on.day} {_MONTHS[on.month - 1]}"


def show_moment(at: datetime) -> str:
    """Show a moment with its weekday: `Sat 18 Sep 18:00`."""
    return f"{show_day(at)} {at:%H:%M}"


def _number(text: str) -> Decimal:
    return Decimal(text.replace(",", "."))


def _short(seen: str) -> str:
    return seen if len(seen) <= 40 else seen[:39] + "…"
