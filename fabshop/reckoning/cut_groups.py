"""From the rack and the wishes to cut list questions, and from answers to marks."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from fabshop.reckoning.facts import PieceFact, WishFact
from fabshop.reckoning.joint_lots import joint_lots, two_lots
from fabshop.units import show_length

# A rest as small as this may be less than what the tape measure errs by.
TIGHT_UM = 3_000

Plain = dict[str, Any]


@dataclass(frozen=True)
class Group:
    """Wishes of one material and section, and the pieces that they may come from.

    Lengths only; what is cut of sheets is another question.
    """

    material: str
    name: str
    form: str
    section: str
    for_frame: bool
    wishes: tuple[WishFact, ...]
    pieces: tuple[PieceFact, ...]
    tasks: tuple[str, ...]
    kept_out: tuple[tuple[str, str], ...] = field(default=())

    def question(
        self, *, kerf_um: int, dressing_um: int, keep_over_um: int, time_limit_s: float
    ) -> Plain:
        """A `cutlist` question: drops cost nothing, new stock its length."""
        return {
            "kerf": kerf_um / 1000,
            "keep_over": keep_over_um / 1000,
            "prefer": "drop",
            "time_limit_s": time_limit_s,
            "stock": [
                {
                    "id": piece.id,
                    "length": piece.free_for(*self.tasks) / 1000,
                    "cost": 0 if piece.is_drop else piece.left_um / 1000,
                }
                for piece in self.pieces
            ],
            "pieces": [
                {
                    "id": wish.id,
                    "length": (wish.length_um + 2 * dressing_um) / 1000,
                    "count": wish.count,
                }
                for wish in self.wishes
            ],
        }


def groups(
    pieces: Iterable[PieceFact], wishes: Iterable[WishFact]
) -> tuple[Group, ...]:
    """The wishes by material and section, what goes into frames apart and first.

    A piece that another task holds whole is kept out, so is an unknown heat lot where
    a frame is cut; each with its reason.
    """
    wanted = [wish for wish in wishes if wish.count > 0 and not wish.wide_um]
    tasks = tuple(sorted({wish.task for wish in wanted if wish.task}))
    by_kind: dict[tuple[str, str, str, bool], list[WishFact]] = {}
    for wish in wanted:
        kind = (wish.material, wish.form, wish.section, not wish.for_frame)
        by_kind.setdefault(kind, []).append(wish)
    rack = [piece for piece in pieces if not piece.is_retired and not piece.is_flat]
    found = []
    for (material, form, section, is_other), asked in sorted(by_kind.items()):
        alike = [
            piece
            for piece in rack
            if (piece.material, piece.form, piece.section) == (material, form, section)
        ]
        out = [(piece, _kept_out(piece, tasks, not is_other)) for piece in alike]
        found.append(
            Group(
                material=material,
                name=asked[0].material_name or material,
                form=form,
                section=section,
                for_frame=not is_other,
                wishes=tuple(sorted(asked, key=lambda wish: wish.id)),
                pieces=tuple(piece for piece, why in out if not why),
                tasks=tasks,
                kept_out=tuple((piece.id, why) for piece, why in out if why),
            )
        )
    return tuple(found)


def without(group: Group, taken: Iterable[str]) -> Group:
    """The group without the pieces that a group before it has opened."""
    gone = set(taken)
    return Group(
        material=group.material,
        name=group.name,
        form=group.form,
        section=group.section,
        for_frame=group.for_frame,
        wishes=group.wishes,
        pieces=tuple(piece for piece in group.pieces if piece.id not in gone),
        tasks=group.tasks,
        kept_out=group.kept_out,
    )


def _kept_out(piece: PieceFact, tasks: tuple[str, ...], for_frame: bool) -> str:
    if for_frame and piece.lot_is_unknown:
        return "heat lot unknown, and this goes into a frame"
    if piece.left_um <= 0:
        return "measure it" if piece.left_um < 0 else "used up"
    if piece.free_for(*tasks) <= 0:
        others = " ".join(task for task, _ in piece.held if task not in tasks)
        return f"held for {others}"
    return ""


def told(
    group: Group,
    answer: Mapping[str, Any],
    *,
    kerf_um: int,
    dressing_um: int,
    onto_lots: Mapping[str, str] | None = None,
) -> Plain:
    """The answer as the list keeps it: each bar cut by cut, with its marks.

    `onto_lots` says of which heat lot the main tube of each joint is recorded.
    """
    wishes = {wish.id: wish for wish in group.wishes}
    pieces = {piece.id: piece for piece in group.pieces}
    marks = {wish.id: wish.cut for wish in group.wishes}
    bars = []
    for bar in answer["bars"]:
        piece = pieces[bar["stock"]]
        bars.append(
            _bar(piece, bar, wishes, marks, kerf_um=kerf_um, dressing_um=dressing_um)
        )
    return {
        "material": group.material,
        "name": group.name,
        "form": group.form,
        "section": group.section,
        "for_frame": group.for_frame,
        "status": answer["status"],
        "gap": answer.get("gap"),
        "totals": answer["totals"],
        "bars": bars,
        "short": [
            {**line, "title": wishes[line["piece"]].title} for line in answer["short"]
        ],
        "kept_out": [{"piece": name, "why": why} for name, why in group.kept_out],
        "two_lots": two_lots(bars, wishes),
        "joint_lots": joint_lots(bars, onto_lots or {}),
        "why_best": why_best(answer, kept(group, bars)),
    }


def _bar(
    piece: PieceFact,
    bar: Mapping[str, Any],
    wishes: Mapping[str, WishFact],
    marks: dict[str, int],
    *,
    kerf_um: int,
    dressing_um: int,
) -> Plain:
    left, cuts = piece.left_um, []
    for name in bar["pieces"]:
        wish = wishes[name]
        part = wish.length_um + 2 * dressing_um
        # The last cut may run out of the bar: its kerf is then what was left.
        kerf = min(kerf_um, left - part)
        left -= part + kerf
        cuts.append(
            {
                "mark": f"{name}{letter(marks[name])}",
                "wish": name,
                "title": wish.title,
                "joints": list(joints_of(wish, marks[name])),
                "finished_um": wish.length_um,
                "part_um": part,
                "kerf_um": kerf,
                "left_um": left,
            }
        )
        marks[name] += 1
    return {
        "piece": piece.id,
        "heat_lot": piece.heat_lot,
        "place": piece.place,
        "is_drop": piece.is_drop,
        "before_um": piece.left_um,
        "cuts": cuts,
        "left_um": left,
        "fate": bar["fate"],
        "tight": 0 <= left < TIGHT_UM,
    }


def joints_of(wish: WishFact, number: int) -> tuple[str, ...]:
    """The joints of one of several pieces alike: dealt out in order, if it goes up."""
    every = wish.count + wish.cut
    share, over = divmod(len(wish.joints), every)
    if over or not share:
        return wish.joints
    return wish.joints[number * share : (number + 1) * share]


def letter(number: int) -> str:
    """0 is a, 25 is z, 26 is aa: the mark of one of several alike."""
    more, last = divmod(number, 26)
    return (letter(more - 1) if more else "") + chr(ord("a") + last)


def kept(group: Group, bars: Iterable[Mapping[str, Any]]) -> str:
    """The longest single drop there is afterwards, and of which; "" where none is."""
    lefts = {str(bar["piece"]): int(bar["left_um"]) for bar in bars}
    lefts |= {
        piece.id: piece.left_um
        for piece in group.pieces
        if piece.is_drop and piece.id not in lefts
    }
    name = max(lefts, key=lambda piece: lefts[piece], default="")
    return f"{show_length(lefts[name])} of {name}" if name and lefts[name] else ""


def why_best(answer: Mapping[str, Any], longest: str) -> str:
    """In one sentence why nothing better is to be had, or how far that is open."""
    if answer["status"] == "optimal":
        if not answer["bars"]:
            return "Proven: nothing of it can be cut of what is here."
        than = f", or then keeps a longer single drop than {longest}" if longest else ""
        return f"Proven: no way cuts more or opens fewer new metres{than}."
    gap = answer["gap"]
    reached, bound = gap["reached"], gap["bound"]
    if gap["aim"] == "drop":
        return (
            "Proven: no way cuts more or opens fewer new metres. The longest single "
            f"drop kept is {longest}; whether {bound:g} mm can be is not proven."
        )
    return f"Best found, not proven: {gap['aim']} {reached:g}, at best {bound:g}."
