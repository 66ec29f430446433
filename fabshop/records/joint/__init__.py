"""Tube joints: what they join, how they are prepared, what was seen of the weld."""

from fabshop.records.joint.colour import ColourCall, ColourRow, ColourTable
from fabshop.records.joint.joint import Joint, JointCover, JointMove
from fabshop.records.joint.prep import PrepRun, PrepStep, PrepTemplate, PrepTick

__all__ = [
    "ColourCall",
    "ColourRow",
    "ColourTable",
    "Joint",
    "JointCover",
    "JointMove",
    "PrepRun",
    "PrepStep",
    "PrepTemplate",
    "PrepTick",
]
