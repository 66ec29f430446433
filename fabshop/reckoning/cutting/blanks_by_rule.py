"""A first packing by rule: the largest first, as near to the square end as it goes."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from fabshop.reckoning.cutting.blank_places import Place, Sheet

Room = tuple[int, int, int, int]
"""x, y, length and width of a rectangle where nothing lies."""


@dataclass(frozen=True)
class Laid:
    """A part in its place, with its corner nearest to the sheet's own."""

    place: Place
    x_um: int
    y_um: int


_ORDERS: tuple[Callable[[Place], tuple[int, int]], ...] = (
    lambda place: (place.length_um * place.width_um, place.length_um),
    lambda place: (max(place.length_um, place.width_um), place.length_um),
    lambda place: (min(place.length_um, place.width_um), place.length_um),
    lambda place: (place.length_um + place.width_um, place.length_um),
)


def by_rule(
    places: Iterable[Place], sheets: list[Sheet], parts: int
) -> dict[int, Laid]:
    """The best of a few orders: most parts, then cheapest, fewest, nearest the end."""
    of_part: dict[int, list[Place]] = {part: [] for part in range(parts)}
    for place in places:
        of_part[place.part].append(place)
    found = [_in_order(of_part, sheets, order) for order in _ORDERS]

    def worth(laid: dict[int, Laid]) -> tuple[int, int, int, int]:
        opened = {one.place.sheet for one in laid.values()}
        reach = sum(one.x_um + one.place.length_um for one in laid.values())
        cost = sum(sheets[sheet].cost for sheet in opened)
        return len(laid), -cost, -len(opened), -reach

    return max(found, key=worth)


def _in_order(
    of_part: dict[int, list[Place]],
    sheets: list[Sheet],
    order: Callable[[Place], tuple[int, int]],
) -> dict[int, Laid]:
    rooms: list[list[Room]] = [
        [(0, 0, sheet.length_um, sheet.width_um)] for sheet in sheets
    ]
    laid: dict[int, Laid] = {}
    can_lie = [part for part, ways in of_part.items() if ways]
    for part in sorted(can_lie, key=lambda p: order(of_part[p][0]), reverse=True):
        best = _best(of_part[part], rooms)
        if best is not None:
            laid[part] = best
            sheet = best.place.sheet
            rooms[sheet] = _cut_out(rooms[sheet], best)
    return laid


def _best(ways: list[Place], rooms: list[list[Room]]) -> Laid | None:
    """On the first sheet with room, with the least reach from its square end."""
    fits = [
        (place.sheet, x + place.length_um, y + place.width_um, Laid(place, x, y))
        for place in ways
        for x, y, length, width in rooms[place.sheet]
        if place.length_um <= length and place.width_um <= width
    ]
    return min(fits, key=lambda fit: fit[:3])[3] if fits else None


def _cut_out(rooms: list[Room], laid: Laid) -> list[Room]:
    """What is free once a part lies there: every largest rectangle that remains."""
    x1, y1 = laid.x_um, laid.y_um
    x2, y2 = x1 + laid.place.length_um, y1 + laid.place.width_um
    left: list[Room] = []
    for x, y, length, width in rooms:
        if x2 <= x or x1 >= x + length or y2 <= y or y1 >= y + width:
            left.append((x, y, length, width))
            continue
        around = (
            (x, y, x1 - x, width),
            (x2, y, x + length - x2, width),
            (x, y, length, y1 - y),
            (x, y2, length, y + width - y2),
        )
        left += [room for room in around if room[2] > 0 and room[3] > 0]
    unique = list(dict.fromkeys(left))
    return [
        room
        for room in unique
        if not any(room != other and _within(room, other) for other in unique)
    ]


def _within(room: Room, other: Room) -> bool:
    return (
        other[0] <= room[0]
        and other[1] <= room[1]
        and room[0] + room[2] <= other[0] + other[2]
        and room[1] + room[3] <= other[1] + other[3]
    )
