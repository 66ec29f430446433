"""Tube joints: defined, prepared, moved on, called by colour, accepted or rejected."""

# `undone` stands first: the log reads it from here while the rest of this package,
# which writes to the log, is still being imported.
from fabshop.actions.joint.undone import JOINT_EFFECTS  # isort: skip
from fabshop.actions.joint.colour import call_colour
from fabshop.actions.joint.define import add_joint, change_joint, set_lots
from fabshop.actions.joint.over import set_joint_covers, strip_cover
from fabshop.actions.joint.prep import begin_prep, tick_step
from fabshop.actions.joint.state import accept_joint, move_joint, reject_joint
from fabshop.actions.joint.template import (
    change_template,
    set_colour_table,
    set_prep_hours,
    template_of,
)
from fabshop.actions.joint.twin import link_twin_joints

__all__ = [
    "JOINT_EFFECTS",
    "accept_joint",
    "add_joint",
    "begin_prep",
    "call_colour",
    "change_joint",
    "change_template",
    "link_twin_joints",
    "move_joint",
    "reject_joint",
    "set_colour_table",
    "set_joint_covers",
    "set_lots",
    "set_prep_hours",
    "strip_cover",
    "template_of",
    "tick_step",
]
