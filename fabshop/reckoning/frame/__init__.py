"""Tube frames: what follows from nodes and the tubes between them."""

from fabshop.reckoning.frame.angle import AngleTyped, angle_typed, doubt_about
from fabshop.reckoning.frame.axis import Axis, NoAxis, axis_through, bent, drawn
from fabshop.reckoning.frame.cuts import CutEnd, FrameCut, frame_cuts
from fabshop.reckoning.frame.facts import BendFact, EndFact, FrameFacts, TubeFact
from fabshop.reckoning.frame.mirror import mirror_faults, mirrored_twist, twin_doubt
from fabshop.reckoning.frame.reckon import (
    EndReckoned,
    FrameReckoned,
    SectionTotal,
    TubeReckoned,
    reckon_frame,
)

__all__ = [
    "AngleTyped",
    "Axis",
    "BendFact",
    "CutEnd",
    "EndFact",
    "EndReckoned",
    "FrameCut",
    "FrameFacts",
    "FrameReckoned",
    "NoAxis",
    "SectionTotal",
    "TubeFact",
    "TubeReckoned",
    "angle_typed",
    "axis_through",
    "bent",
    "doubt_about",
    "drawn",
    "frame_cuts",
    "mirror_faults",
    "mirrored_twist",
    "reckon_frame",
    "twin_doubt",
]
