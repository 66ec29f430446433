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
    for anything of the piece. A code that is no piece's is not looked at here.
    """
    found: dict[str, tuple[Lack, ...]] = {}
    for task in facts.tasks:
        if task.is_finished:
            continue
        lacks = [_lack(facts, task, need) for need in task.needs]
        if told := tuple(lack for lack in lacks if lack):
            found[task.id] = told
    return found


def _lack(facts: Facts, task: TaskFact, need: NeedFact) -> Lack | None:
    piece = facts.piece_by_id.get(need.name)
    if need.kind is not words.NeedKind.RACK or piece is None:
        return None
    wanted = need.quantity_milli or 1
    room = 0 if piece.is_retired else piece.free_for(task.id)
    if room >= wanted:
        return None
    return Lack(
        task.id, piece.id, wanted - room, f"{piece.id} {_why(piece, task, need)}"
    )


def _why(piece: PieceFact, task: TaskFact, need: NeedFact) -> str:
    if piece.is_retired:
        return "is gone from the rack"
    if piece.left_um < 0:
        return f"reads {show_length(piece.left_um)}: measure it"
    others = [name for name, _ in piece.held if name != task.id]
    left = f"{show_length(piece.left_um)} left"
    if others:
        left += f", held for {' '.join(others)}"
    if need.quantity_milli:
        return f"{left}, {show_length(need.quantity_milli)} wanted"
    return left if others else "is used up"
