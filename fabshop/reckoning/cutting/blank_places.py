"""Where a blank may lie: on which sheet, and which way round as its grain allows."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop.reckoning.questions.blanks import Blank, SheetStock


@dataclass(frozen=True)
class Sheet:
    """One sheet, its room with a kerf added both ways, in micrometres."""

    stock: SheetStock
    length_um: int
    width_um: int
    cost: int


@dataclass(frozen=True)
class Part:
    """One blank with its kerf, in micrometres."""

    blank: Blank
    length_um: int
    width_um: int


@dataclass(frozen=True)
class Place:
    """A part on a sheet, lying as drawn or turned by a quarter."""

    part: int
    sheet: int
    turned: bool
    length_um: int
    width_um: int


def ways(number: int, part: Part, of_sheet: int, sheet: Sheet) -> list[Place]:
    """How a part may lie on a sheet: by its grain and by its size, squares once."""
    found = []
    wants, has = part.blank.grain, sheet.stock.grain
    for turned in (False, True):
        if turned and part.length_um == part.width_um and not (wants and has):
            continue
        if wants and has and (wants == has) == turned:
            continue
        length, width = part.length_um, part.width_um
        if turned:
            length, width = width, length
        if length <= sheet.length_um and width <= sheet.width_um:
            found.append(Place(number, of_sheet, turned, length, width))
    return found
