"""From sheets and wished rectangles to blanks questions, and from answers to marks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from fabshop.reckoning.cut_groups import letter
from fabshop.reckoning.facts import PieceFact, WishFact
from fabshop.units import show_length, show_sizes

Plain = dict[str, Any]
# What one question can hold; the largest sheets beyond these are not needed.
MOST_SHEETS = 20


@dataclass(frozen=True)
class BlankGroup:
    """Rectangles of one material and thickness, and the sheets they may come from."""

    material: str
    name: str
    section: str
    wishes: tuple[WishFact, ...]
    sheets: tuple[PieceFact, ...]
    kept_out: tuple[tuple[str, str], ...] = ()

    def question(self, *, kerf_um: int, time_limit_s: float) -> Plain:
        """A `blanks` question: drops cost nothing, new sheets their area."""
        return {
            "kerf": kerf_um / 1000,
            "time_limit_s": time_limit_s,
            "sheets": [
                {
                    "id": sheet.id,
                    "length": sheet.left_um / 1000,
                    "width": sheet.wide_um / 1000,
                    "grain": sheet.grain.value,
                    "cost": 0
                    if sheet.is_drop
                    else min(1_000_000, sheet.left_um * sheet.wide_um / 1e8),
                }
                for sheet in self.sheets
            ],
            "blanks": [
                {
                    "id": wish.id,
                    "length": wish.length_um / 1000,
                    "width": wish.wide_um / 1000,
                    "count": wish.count,
                    "grain": wish.grain.value,
                }
                for wish in self.wishes
            ],
        }


def blank_groups(
    pieces: Iterable[PieceFact], wishes: Iterable[WishFact]
) -> tuple[BlankGroup, ...]:
    """The wished rectangles by material and thickness, with the sheets of it.

    A sheet that another task holds any of is kept out: it is held whole.
    """
    wanted = [wish for wish in wishes if wish.count > 0 and wish.wide_um]
    tasks = {wish.task for wish in wanted if wish.task}
    by_kind: dict[tuple[str, str], list[WishFact]] = {}
    for wish in wanted:
        by_kind.setdefault((wish.material, wish.section), []).append(wish)
    rack = [piece for piece in pieces if piece.is_flat and not piece.is_retired]
    found = []
    for (material, section), asked in sorted(by_kind.items()):
        alike = [p for p in rack if (p.material, p.section) == (material, section)]
        for_frame = any(wish.for_frame for wish in asked)
        out = {sheet.id: _kept_out(sheet, tasks, for_frame) for sheet in alike}
        usable = [sheet for sheet in alike if not out[sheet.id]]
        usable.sort(key=lambda p: (not p.is_drop, p.left_um * p.wide_um, p.id))
        found.append(
            BlankGroup(
                material=material,
                name=asked[0].material_name or material,
                section=section,
                wishes=tuple(sorted(asked, key=lambda wish: wish.id)),
                sheets=tuple(usable[:MOST_SHEETS]),
                kept_out=tuple((name, why) for name, why in out.items() if why),
            )
        )
    return tuple(found)


def _kept_out(sheet: PieceFact, tasks: set[str], for_frame: bool) -> str:
    if for_frame and sheet.lot_is_unknown:
        return "heat lot unknown, and this goes into a frame"
    if sheet.left_um <= 0 or sheet.wide_um <= 0:
        return "measure it"
    others = [task for task, _ in sheet.held if task not in tasks]
    return f"held for {' '.join(others)}" if others else ""


def laid_out(group: BlankGroup, answer: Mapping[str, Any], *, kerf_um: int) -> Plain:
    """The answer as the list keeps it: each sheet with its blanks, marked, drawn."""
    sheets = {sheet.id: sheet for sheet in group.sheets}
    wishes = {wish.id: wish for wish in group.wishes}
    marks = {wish.id: wish.cut for wish in group.wishes}
    found = []
    for sheet in answer["sheets"]:
        piece = sheets[sheet["sheet"]]
        blanks = []
        for one in sheet["blanks"]:
            name = one["blank"]
            blanks.append(
                {
                    **one,
                    "wish": name,
                    "mark": f"{name}{letter(marks[name])}",
                    "title": wishes[name].title,
                    "size": show_sizes(
                        round(one["length"] * 1000), round(one["width"] * 1000)
                    ),
                    "at": show_sizes(round(one["x"] * 1000), round(one["y"] * 1000)),
                    "middle": [
                        round(one["x"] + one["length"] / 2, 3),
                        round(one["y"] + one["width"] / 2, 3),
                    ],
                }
            )
            marks[name] += 1
        drop = sheet["drop"]
        found.append(
            {
                "piece": piece.id,
                "heat_lot": piece.heat_lot,
                "place": piece.place,
                "is_drop": piece.is_drop,
                "grain": piece.grain.value,
                "length": sheet["length"],
                "width": sheet["width"],
                "size": show_sizes(piece.left_um, piece.wide_um),
                **_drawing(sheet),
                "blanks": blanks,
                "yield": sheet["yield"],
                "drop": drop
                and {
                    **drop,
                    "x": round(sheet["length"] - drop["length"], 3),
                    "size": show_sizes(
                        round(drop["length"] * 1000), round(drop["width"] * 1000)
                    ),
                },
            }
        )
    return {
        "material": group.material,
        "name": group.name,
        "section": group.section,
        "status": answer["status"],
        "gap": answer.get("gap"),
        "totals": answer["totals"],
        "sheets": found,
        "short": [
            {**line, "title": wishes[line["blank"]].title} for line in answer["short"]
        ],
        "kept_out": [{"piece": name, "why": why} for name, why in group.kept_out],
        "why_best": why_fewest(answer),
        "kerf": show_length(kerf_um),
    }


def _drawing(sheet: Mapping[str, Any]) -> Plain:
    """How large a picture of the sheet is, and letters that fit its least blank."""
    length, width = sheet["length"], sheet["width"]
    least = min(min(one["length"], one["width"]) for one in sheet["blanks"])
    return {
        "view": f"-1 -1 {length + 2:g} {width + 2:g}",
        "letter": round(min(least * 0.6, length / 16), 2),
    }


def why_fewest(answer: Mapping[str, Any]) -> str:
    """In one sentence whether fewer sheets could do."""
    totals = answer["totals"]
    opened, fewest = totals["opened"], totals["fewest"]
    if not opened:
        return "None of it can be cut of what is here."
    gap = answer.get("gap")
    if gap is None:
        word = "sheet does" if opened == 1 else "sheets do"
        return f"Proven: {opened} {word}, no fewer and none that costs less."
    if gap["aim"] == "blanks":
        return (
            f"Best found, not proven: {gap['reached']} blanks, at best {gap['bound']}."
        )
    return f"Best found, not proven: {opened} sheets; at least {fewest} are needed."
