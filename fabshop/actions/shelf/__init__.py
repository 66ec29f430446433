"""The shelf: what is put there, opened, used, counted, and let through gone off."""

from fabshop.actions.shelf.consumable import (
    add_consumable,
    change_consumable,
    open_consumable,
    retire_consumable,
)
from fabshop.actions.shelf.count import count_up
from fabshop.actions.shelf.move import (
    bag_short,
    came_in,
    put_back,
    take_from_tray,
    throw_away,
    use_consumable,
)
from fabshop.actions.shelf.overrule import let_through
from fabshop.actions.shelf.supply import fill_from_line
from fabshop.actions.shelf.tray import add_tray, change_tray, retire_tray

__all__ = [
    "add_consumable",
    "add_tray",
    "bag_short",
    "came_in",
    "change_consumable",
    "change_tray",
    "count_up",
    "fill_from_line",
    "let_through",
    "open_consumable",
    "put_back",
    "retire_consumable",
    "retire_tray",
    "take_from_tray",
    "throw_away",
    "use_consumable",
]
