"""Builds and the places on them: what is there, how it is held, what lies over it."""

from fabshop.actions.build.change import changed_since, refuse_closed
from fabshop.actions.build.component import (
    add_component,
    change_component,
    retire_component,
)
from fabshop.actions.build.copy import copy_build
from fabshop.actions.build.cover import set_covers
from fabshop.actions.build.define import (
    add_build,
    change_build,
    close_build,
    reopen_build,
)
from fabshop.actions.build.fastening import set_fastenings
from fabshop.actions.build.fitted import put_on, swap_component, take_off
from fabshop.actions.build.twin import link_twins, unlink_twin

__all__ = [
    "add_build",
    "add_component",
    "change_build",
    "change_component",
    "changed_since",
    "close_build",
    "copy_build",
    "link_twins",
    "put_on",
    "refuse_closed",
    "reopen_build",
    "retire_component",
    "set_covers",
    "set_fastenings",
    "swap_component",
    "take_off",
    "unlink_twin",
]
