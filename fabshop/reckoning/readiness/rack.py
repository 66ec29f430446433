"""Which pieces on the rack a task needs and cannot have in the length it wants."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop import words
from fabshop.reckoning.facts import Facts, NeedFact, PieceFact, TaskFact
from fabshop.units import show_length


@dataclass(frozen=True)
class Lack:
    """A task that needs a piece of which too little is there for it."""

    task: str
    piece: str
    lacking_um: int
    sentence: str


def lacking_pieces(facts: Facts) -> dict[str, tuple[Lack, ...]]:
    """What each unfinished task lacks of the pieces it names, by task.

    A need in a length asks for so much that no other task holds; one without asks
    for anything of the piece. What is cut of it for the task is in hand. A code that
    is no piece's is not looked at here.
    """
    found: dict[str, tuple[Lack, ...]] = {}
    for task in facts.tasks:
        if task.is_finished:
            continue
        lacks = [_lack(facts, task, need) for need in _by_piece(task)]
        if told := tuple(lack for lack in lacks if lack):
            found[task.id] = told
    return found


def _by_piece(task: TaskFact) -> list[NeedFact]:
    """What it needs on the rack, each piece once with all lengths of it together."""
    found: dict[str, NeedFact] = {}
    for need in task.needs:
        if need.kind is words.NeedKind.RACK:
            before = found.get(need.name)
            lengths = [one.quantity_milli for one in (before, need) if one]
            total = sum(length for length in lengths if length)
            found[need.name] = NeedFact(need.kind, need.name, total or None)
    return list(found.values())


def _lack(facts: Facts, task: TaskFact, need: NeedFact) -> Lack | None:
    piece = facts.piece_by_id.get(need.name)
    if piece is None:
        return None
    has = sum(length for name, length in piece.parts if name == task.id)
    wanted = (need.quantity_milli or 1) - has
    if wanted <= 0:
        return None
    room = 0 if piece.is_retired else piece.free_for(task.id)
    if room >= wanted:
        return None
    return Lack(
        task.id,
        piece.id,
        wanted - room,
        f"{piece.id} {_why(piece, task, need, wanted)}",
    )


def _why(piece: PieceFact, task: TaskFact, need: NeedFact, wanted: int) -> str:
    if piece.is_retired:
        return "is gone from the rack"
    if piece.left_um < 0:
        return f"reads {show_length(piece.left_um)}: measure it"
    others = [name for name, _ in piece.held if name != task.id]
    left = f"{show_length(piece.left_um)} left"
    if others:
        left += f", held for {' '.join(others)}"
    if need.quantity_milli:
        return f"{left}, {show_length(wanted)} wanted"
    return left if others else "is used up"
