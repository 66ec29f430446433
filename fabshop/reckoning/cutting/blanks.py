"""Rectangular blanks on sheets: the fewest sheets, proven, and one drop in one piece.

A blank and its kerf are one rectangle, a sheet holds its size and a kerf, both ways.
Cuts need not run right across: what is nibbled or sawn freely may lie as it likes.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ortools.sat.python import cp_model

from fabshop.reckoning.cutting.best import Budget
from fabshop.reckoning.cutting.blank_places import Part, Sheet, ways
from fabshop.reckoning.cutting.blanks_by_rule import Laid, by_rule
from fabshop.reckoning.cutting.problem import at_least_um, at_most_um
from fabshop.reckoning.questions.blanks import BlanksQuestion
from fabshop.reckoning.solver import Outcome, run

Answer = dict[str, Any]
_COST_PARTS = 1000


def packed(question: BlanksQuestion) -> Answer:
    """The best packing, as the plain data that the format names."""
    kerf = at_least_um(question.kerf)
    sheets = [
        Sheet(
            stock,
            at_most_um(stock.length) + kerf,
            at_most_um(stock.width) + kerf,
            round(stock.cost * _COST_PARTS),
        )
        for stock in question.sheets
        for _ in range(stock.count)
    ]
    # Free ones first, and what is alike beside each other.
    sheets.sort(key=lambda s: (s.cost, s.length_um, s.width_um, s.stock.grain))
    parts = [
        Part(blank, at_least_um(blank.length) + kerf, at_least_um(blank.width) + kerf)
        for blank in question.blanks
        for _ in range(blank.count)
    ]
    packing = Packing(sheets, parts)
    budget = Budget(question.time_limit_s)
    start = by_rule(packing.places, sheets, len(parts))
    return _answer(packing, kerf, packing.solved(start, budget))


class Packing:
    """A CP-SAT model: each part lies on at most one sheet, and none over another."""

    def __init__(self, sheets: list[Sheet], parts: list[Part]) -> None:
        self.sheets, self.parts = sheets, parts
        self.places = [
            place
            for part in range(len(parts))
            for sheet in range(len(sheets))
            for place in ways(part, parts[part], sheet, sheets[sheet])
        ]
        self.model = cp_model.CpModel()
        self._variables()
        self._a_part_lies_once_and_within()
        self._none_over_another()
        self._a_sheet_holds_its_area()
        self._what_is_alike_is_in_order()

    def _variables(self) -> None:
        model = self.model
        long = max((sheet.length_um for sheet in self.sheets), default=0)
        wide = max((sheet.width_um for sheet in self.sheets), default=0)
        self.x = [model.new_int_var(0, long, "") for _ in self.parts]
        self.y = [model.new_int_var(0, wide, "") for _ in self.parts]
        self.lies = [model.new_bool_var("") for _ in self.places]
        self.opened = [model.new_bool_var("") for _ in self.sheets]
        self.reach = [
            model.new_int_var(0, sheet.length_um, "") for sheet in self.sheets
        ]

    def _a_part_lies_once_and_within(self) -> None:
        for part in range(len(self.parts)):
            self.model.add_at_most_one(self._of_part(part))
        for place, lies in zip(self.places, self.lies, strict=True):
            x, y = self.x[place.part], self.y[place.part]
            sheet = self.sheets[place.sheet]
            self.model.add_implication(lies, self.opened[place.sheet])
            self.model.add(
                x + place.length_um <= self.reach[place.sheet]
            ).only_enforce_if(lies)
            self.model.add(y + place.width_um <= sheet.width_um).only_enforce_if(lies)

    def _none_over_another(self) -> None:
        model = self.model
        for sheet in range(len(self.sheets)):
            along, across = [], []
            for place, lies in zip(self.places, self.lies, strict=True):
                if place.sheet != sheet:
                    continue
                along.append(
                    model.new_optional_fixed_size_interval_var(
                        self.x[place.part], place.length_um, lies, ""
                    )
                )
                across.append(
                    model.new_optional_fixed_size_interval_var(
                        self.y[place.part], place.width_um, lies, ""
                    )
                )
            model.add_no_overlap_2d(along, across)

    def _a_sheet_holds_its_area(self) -> None:
        for number, sheet in enumerate(self.sheets):
            area = sum(
                lies * (place.length_um // 1000) * (place.width_um // 1000)
                for place, lies in zip(self.places, self.lies, strict=True)
                if place.sheet == number
            )
            # Square millimetres, rounded so that nothing that fits is forbidden.
            most = -(-sheet.length_um // 1000) * -(-sheet.width_um // 1000)
            self.model.add(area <= most * self.opened[number])
            wide = -(-sheet.width_um // 1000)
            self.model.add(area * 1000 <= wide * self.reach[number])

    def _what_is_alike_is_in_order(self) -> None:
        """Which of two equal sheets or blanks is which means nothing."""
        for here in range(1, len(self.sheets)):
            if _alike(self.sheets[here], self.sheets[here - 1]):
                self.model.add_implication(self.opened[here], self.opened[here - 1])
        for here in range(1, len(self.parts)):
            if self.parts[here].blank is self.parts[here - 1].blank:
                self.model.add(self._number(here - 1) <= self._number(here))

    def _number(self, part: int) -> Any:
        """The number of a part's sheet, past all of them where it lies on none."""
        last = len(self.sheets)
        return last + sum(
            lies * (place.sheet - last)
            for place, lies in zip(self.places, self.lies, strict=True)
            if place.part == part
        )

    def _of_part(self, part: int) -> list[Any]:
        return [
            lies
            for place, lies in zip(self.places, self.lies, strict=True)
            if place.part == part
        ]

    def solved(self, start: dict[int, Laid], budget: Budget) -> Solved:
        """The aims in turn, each fixed before the next: cut, cost, sheets, drop."""
        hint, kept = self._hint(start), start
        can_be_cut = len({place.part for place in self.places})
        aims: list[tuple[str, Any, int]] = [
            ("blanks", sum(self.lies), can_be_cut),
            ("cost", -1 * self._cost(), -self._least_cost(can_be_cut)),
            ("sheets", -1 * sum(self.opened), -self._fewest(can_be_cut)),
            ("drop", -1 * sum(self.reach), 0),
        ]
        gap, fewest, proven = None, 0, True
        for number, (name, aim, most) in enumerate(aims):
            reached = self._reached(name, kept)
            is_proven = proven and reached == most
            if not is_proven and self.places:
                self.model.maximize(aim)
                limit_s = max(0.05, budget.left_s / (len(aims) - number))
                found = run(self.model, limit_s=limit_s, hint=hint)
                if found.is_solved and found.best >= reached:
                    kept, hint = self._laid(found), dict(enumerate(found.values))
                    reached = found.best
                is_proven = found.is_proven
                most = min(most, found.bound) if found.is_solved else most
            if name == "sheets":
                fewest = -reached if is_proven else min(-most, -reached)
            if proven and not is_proven and name != "drop":
                gap = {"aim": name, "reached": abs(reached), "bound": abs(most)}
            proven = proven and is_proven
            self.model.add(aim >= reached)
        return Solved(kept, gap, fewest, proven)

    def _reached(self, name: str, laid: dict[int, Laid]) -> int:
        """How good a packing is in one aim, so that more is better."""
        opened = {one.place.sheet for one in laid.values()}
        if name == "blanks":
            return len(laid)
        if name == "cost":
            return -sum(self.sheets[sheet].cost for sheet in opened)
        if name == "sheets":
            return -len(opened)
        return -sum(
            max(
                one.x_um + one.place.length_um
                for one in laid.values()
                if one.place.sheet == sheet
            )
            for sheet in opened
        )

    def _least_cost(self, cut: int) -> int:
        """What the cheapest sheets that hold the area of all parts cost at least."""
        if cut < len(self.parts):
            return 0
        free = sum(s.length_um * s.width_um for s in self.sheets if not s.cost)
        wanted = sum(part.length_um * part.width_um for part in self.parts)
        paid = [sheet.cost for sheet in self.sheets if sheet.cost]
        return min(paid, default=0) if wanted > free else 0

    def _fewest(self, cut: int) -> int:
        """The largest sheets first: no fewer hold the area of all parts."""
        if cut < len(self.parts):
            return min(1, cut)
        left = sum(part.length_um * part.width_um for part in self.parts)
        rooms = sorted((s.length_um * s.width_um for s in self.sheets), reverse=True)
        count = 0
        while left > 0 and count < len(rooms):
            left, count = left - rooms[count], count + 1
        return count

    def _hint(self, laid: dict[int, Laid]) -> dict[int, int]:
        hint = {lies.index: 0 for lies in self.lies}
        hint |= {opened.index: 0 for opened in self.opened}
        index = {place: n for n, place in enumerate(self.places)}
        for part, one in laid.items():
            hint[self.lies[index[one.place]].index] = 1
            hint[self.opened[one.place.sheet].index] = 1
            hint[self.x[part].index], hint[self.y[part].index] = one.x_um, one.y_um
        return hint

    def _laid(self, found: Outcome) -> dict[int, Laid]:
        return {
            place.part: Laid(
                place, found[self.x[place.part]], found[self.y[place.part]]
            )
            for place, lies in zip(self.places, self.lies, strict=True)
            if found.holds(lies)
        }

    def _cost(self) -> Any:
        return sum(
            sheet.cost * opened
            for sheet, opened in zip(self.sheets, self.opened, strict=True)
        )


@dataclass(frozen=True)
class Solved:
    """What was found; `fewest` sheets is what no packing as good can go below."""

    laid: dict[int, Laid]
    gap: Answer | None
    fewest: int
    drop_is_proven: bool


def _alike(one: Sheet, other: Sheet) -> bool:
    return (one.length_um, one.width_um, one.cost, one.stock.grain) == (
        *(other.length_um, other.width_um, other.cost, other.stock.grain),
    )


def _answer(packing: Packing, kerf: int, solved: Solved) -> Answer:
    laid: dict[int, list[Answer]] = {}
    cut = [part in solved.laid for part in range(len(packing.parts))]
    for part, one in solved.laid.items():
        place = one.place
        laid.setdefault(place.sheet, []).append(
            {
                "blank": packing.parts[part].blank.id,
                "x": one.x_um / 1000,
                "y": one.y_um / 1000,
                "length": (place.length_um - kerf) / 1000,
                "width": (place.width_um - kerf) / 1000,
                "turned": place.turned,
            }
        )
    sheets = [
        _sheet(packing.sheets[number], kerf, blanks)
        for number, blanks in sorted(laid.items())
    ]
    answer: Answer = {
        "status": "feasible" if solved.gap else "optimal",
        "sheets": sheets,
        "short": _short(packing, cut),
        "totals": {
            "opened": len(sheets),
            "fewest": min(solved.fewest, len(sheets)),
            "cost": sum(packing.sheets[n].cost for n in laid) / _COST_PARTS,
            "drop_is_proven": solved.drop_is_proven,
        },
    }
    if solved.gap:
        answer["gap"] = solved.gap
    return answer


def _sheet(sheet: Sheet, kerf: int, blanks: list[Answer]) -> Answer:
    """One opened sheet: where each blank lies, and the drop at its far end."""
    stock = sheet.stock
    reach = max(blank["x"] + blank["length"] for blank in blanks)
    rest = round(stock.length - reach - kerf / 1000, 3)
    used = sum(blank["length"] * blank["width"] for blank in blanks)
    return {
        "sheet": stock.id,
        "length": stock.length,
        "width": stock.width,
        "blanks": sorted(blanks, key=lambda b: (b["x"], b["y"])),
        "drop": {"length": rest, "width": stock.width} if rest > 0 else None,
        "yield": round(used / (stock.length * stock.width), 4),
    }


def _short(packing: Packing, cut: list[bool]) -> list[Answer]:
    fits = {place.part for place in packing.places}
    lines: dict[str, Answer] = {}
    for number, part in enumerate(packing.parts):
        if cut[number]:
            continue
        why = (
            "no sheet with room for it is left"
            if number in fits
            else "larger than every sheet, as its grain must run"
            if part.blank.grain
            else "larger than every sheet"
        )
        line = lines.setdefault(
            part.blank.id, {"blank": part.blank.id, "count": 0, "why": why}
        )
        line["count"] += 1
    return list(lines.values())
