"""A cope typed without any frame, read with its units and refused by field."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from fabshop.errors import BadInput, FieldError, ShopError
from fabshop.reckoning.frame.angle import angle_typed
from fabshop.reckoning.wrap import PAPER_MM, CopeEnd, Template
from fabshop.units import parse_length_um

MOST_OD_MM = 1_000
_ANGLE = re.compile(r"([+-]?\d{1,4}(?:[.,]\d{1,6})?)\s*(?:°|deg)?")


@dataclass(frozen=True)
class CopeTyped:
    """What was typed as a template, and what to say about it."""

    template: Template
    notes: tuple[str, ...]


def angle_read(text: str, *, field: str, label: str) -> float:
    """Read `62.5`, `62,5` or `62.5°`."""
    found = _ANGLE.fullmatch(text.strip().replace("−", "-"))
    if not found:
        what = f"“{text.strip()[:40]}” is not degrees" if text.strip() else "is missing"
        raise BadInput(f"{label}: {what}. Write degrees like 62.5.", field=field)
    return float(found[1].replace(",", "."))


def length_read(text: str, *, field: str, label: str) -> float:
    """Read a length with its unit as millimetres; it may not be missing."""
    length_um = parse_length_um(text, field=field, label=label)
    if length_um is None:
        raise BadInput(f"{label}: nothing is written. It is needed.", field=field)
    return length_um / 1000


def cope_typed(fields: Mapping[str, str]) -> CopeTyped:
    """A template from `od wall onto angle offset`, and `onto2 angle2 offset2 twist`.

    `reads=dial` says that the angles are what the notcher's dial reads. All that is
    wrong is said at once.
    """
    reading = _Reading(fields)
    od = reading.length("od", "Tube OD")
    wall = reading.length("wall", "Wall")
    paper = reading.length("thick", "Paper thickness", otherwise=PAPER_MM)
    if od is not None and not 0 < od <= MOST_OD_MM:
        reading.wrong("od", f"Tube OD: {od:g} mm is not over 0 and up to {MOST_OD_MM}.")
    if wall is not None and od and not 0 < wall <= od / 2:
        reading.wrong(
            "wall", f"Wall: {wall:g} mm is not over 0 and up to the radius, {od / 2:g}."
        )
    if paper is not None and not 0 <= paper <= 1:
        reading.wrong("thick", f"Paper thickness: {paper:g} mm is not 0 to 1 mm.")
    ends = [reading.end("", od)]
    if any(fields.get(f"{name}2", "").strip() for name in ("onto", "angle")):
        ends.append(reading.end("2", od))
    twist = reading.angle("twist", "Twist", otherwise=0.0)
    if twist is not None and abs(twist) > 180:
        reading.wrong("twist", f"Twist: {twist:g} is not -180 to 180 degrees.")
    reading.refuse_if_wrong()
    made = tuple(end for end in ends if end is not None)
    assert od is not None
    assert wall is not None
    assert paper is not None
    template = Template(od, wall, made, twist or 0.0, paper)
    return CopeTyped(template, tuple(reading.notes))


class _Reading:
    def __init__(self, fields: Mapping[str, str]) -> None:
        self.fields = fields
        self.errors: list[FieldError] = []
        self.notes: list[str] = []

    def end(self, number: str, od: float | None) -> CopeEnd | None:
        said = " of the other end" if number else ""
        onto = self.length(f"onto{number}", f"Onto OD{said}")
        angle = self.angle(f"angle{number}", f"Angle{said}")
        offset = self.length(f"offset{number}", f"Offset{said}", otherwise=0.0)
        if angle is not None:
            if self.fields.get("reads") == "dial":
                angle = 90 - angle
            try:
                read = angle_typed(angle, field=f"angle{number}")
            except BadInput as error:
                self.errors.extend(error.errors)
                angle = None
            else:
                angle = read.angle_deg
                self.notes += read.notes
        if onto is None or angle is None or offset is None or od is None:
            return None
        if not 0 < onto <= MOST_OD_MM:
            text = f"Onto OD: {onto:g} mm is not over 0 and up to {MOST_OD_MM}."
            self.wrong(f"onto{number}", text)
            return None
        if abs(offset) + od / 2 > onto / 2 + 1e-9:
            over = abs(offset) + od / 2 - onto / 2
            self.wrong(
                f"offset{number}" if od <= onto else f"onto{number}",
                f"The cut tube wraps past the mate by {over:.2f} mm (offset "
                f"{abs(offset):g} + radius {od / 2:g} is more than {onto / 2:g}): "
                "no template.",
            )
            return None
        return CopeEnd(onto, angle, offset)

    def length(
        self, field: str, label: str, otherwise: float | None = None
    ) -> float | None:
        text = self.fields.get(field, "").replace("−", "-")
        if not text.strip() and otherwise is not None:
            return otherwise
        try:
            return length_read(text, field=field, label=label)
        except ShopError as error:
            self.errors.extend(error.errors)
            return None

    def angle(
        self, field: str, label: str, otherwise: float | None = None
    ) -> float | None:
        text = self.fields.get(field, "")
        if not text.strip() and otherwise is not None:
            return otherwise
        try:
            return angle_read(text, field=field, label=label)
        except ShopError as error:
            self.errors.extend(error.errors)
            return None

    def wrong(self, field: str, message: str) -> None:
        self.errors.append(FieldError(field, message))

    def refuse_if_wrong(self) -> None:
        if self.errors:
            raise BadInput(
                " ".join(dict.fromkeys(error.message for error in self.errors)),
                field=self.errors[0].field,
                errors=tuple(self.errors),
            )
