"""Contradictions of the shelf: counts below nothing, one code twice, used unasked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator

from fabshop import words
from fabshop.actions.shelf.locked import amount
from fabshop.records.shelf import Consumable, ShelfMove, ShelfWaiver, Tray
from fabshop.records.stock import Piece


def _shelf_below_nothing() -> Iterator[str]:
    """More was taken than there was: somebody counted wrong."""
    for kind in (Consumable, Tray):
        for thing in kind.objects.on_the_shelf().with_left():
            if thing.left_milli < 0:
                wrong = amount(thing, -int(thing.left_milli))
                yield f"{thing}: count wrong by {wrong}, look."


def _one_code_two_things() -> Iterator[str]:
    """A code on the shelf that another thing of the shop has too."""
    codes: Counter[str] = Counter()
    for kind in (Consumable, Tray, Piece):
        codes.update(kind._default_manager.values_list("code", flat=True))
    for code, times in sorted(codes.items()):
        if times > 1:
            yield f"{code} is the code of {times} things on shelf and rack."


def _used_gone_off_unasked() -> Iterator[str]:
    """Gone off it was used for a task that nobody let use it."""
    let = set(
        ShelfWaiver.objects.filter(is_taken_back=False).values_list(
            "consumable_id", "task_id"
        )
    )
    moves = ShelfMove.objects.filter(
        is_gone_off=True, is_taken_back=False, kind=words.MoveKind.USED
    )
    for move in moves.select_related("consumable", "task"):
        if (move.consumable_id, move.task_id) not in let:
            yield (
                f"{move.consumable} was used gone off for {move.task or 'no task'}, "
                "and nobody overruled it."
            )


SHELF_CHECKS: dict[str, Callable[[], Iterable[str]]] = {
    "shelf-below-nothing": _shelf_below_nothing,
    "one-code-two-things": _one_code_two_things,
    "used-gone-off-unasked": _used_gone_off_unasked,
}
