"""Contradictions of the shelf are named, and the demo shop has none."""

from __future__ import annotations

from fabshop.console.audit import contradictions
from fabshop.console.audit_shelf import SHELF_CHECKS
from fabshop.records.shop import Shop
from tests.factories import (
    ConsumableFactory,
    PieceFactory,
    ShelfMoveFactory,
    ShelfWaiverFactory,
    TaskFactory,
    TrayFactory,
)


def named() -> set[str]:
    return {name for name, check in SHELF_CHECKS.items() if list(check())}


def test_the_demo_shop_has_none(demo: Shop) -> None:
    assert named() == set()


def test_a_count_below_nothing_is_named(db: None) -> None:
    """Row 46."""
    tray = TrayFactory(code="F04", size="M4 nylon nut")
    ShelfMoveFactory(consumable=None, tray=tray, kind="used", change_milli=-2_000)
    said = [one.words for one in contradictions()]
    assert "F04 M4 nylon nut: count wrong by 2, look." in said


def test_one_code_for_two_things_is_named(db: None) -> None:
    PieceFactory(code="C01")
    ConsumableFactory(code="C01")
    assert named() == {"one-code-two-things"}


def test_gone_off_and_used_without_a_word_is_named(db: None) -> None:
    """Row 44."""
    thing, task = ConsumableFactory(), TaskFactory()
    ShelfMoveFactory(consumable=thing)
    ShelfMoveFactory(
        consumable=thing, task=task, kind="used", change_milli=-1, is_gone_off=True
    )
    assert named() == {"used-gone-off-unasked"}
    ShelfWaiverFactory(consumable=thing, task=task)
    assert named() == set()
