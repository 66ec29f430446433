"""The angle that was typed: between the tubes, or what a notcher's dial reads?"""

from __future__ import annotations

from dataclasses import dataclass

from fabshop.errors import BadInput
from fabshop.reckoning.frame.landing import FEATHER_DEG

# What an angle gauge on round tube is good for; common practice, from memory.
AGREES_DEG = 1.5


@dataclass(frozen=True)
class AngleTyped:
    """The angle between two centrelines, 0 to 90, and what to say about it."""

    angle_deg: float
    notes: tuple[str, ...] = ()

    @property
    def dial_deg(self) -> float:
        return 90 - self.angle_deg


def angle_typed(typed_deg: float, *, field: str = "angle") -> AngleTyped:
    """Read an angle between centrelines; past 90 the supplement stands for it.

    Refuses 0 and less, 180 and more: two such tubes run side by side.
    """
    if not 0 < typed_deg < 180:
        raise BadInput(
            f"Angle: {typed_deg:g} is not between 0 and 180 degrees. Type the angle "
            "between the two centrelines.",
            field=field,
        )
    notes = []
    angle = typed_deg
    if typed_deg > 90:
        angle = 180 - typed_deg
        notes.append(
            f"{typed_deg:g}° was measured on the obtuse side; {angle:g}° is the same "
            "joint from its acute side. The 0 mark goes on the acute side, across the "
            "tube from where you measured."
        )
    if angle < FEATHER_DEG:
        notes.append(feather_warning(angle))
    return AngleTyped(angle, tuple(notes))


def feather_warning(angle_deg: float) -> str:
    return (
        f"{angle_deg:.1f}° is below {FEATHER_DEG:g}°: the acute side runs out into a "
        "feather edge that burns away. Trim it back, or think of a gusset."
    )


def doubt_about(typed_deg: float, known_deg: float, known_from: str) -> str:
    """What to ask where a typed angle disagrees with the frame or the twin; "" if not.

    A notcher's dial counts from square, so it reads the complement: 25 where the
    tubes stand at 65. `known_from` says where the other angle comes from.
    """
    typed = min(typed_deg, 180 - typed_deg)
    if abs(typed - known_deg) <= AGREES_DEG:
        return ""
    if abs(90 - typed - known_deg) <= AGREES_DEG:
        return (
            f"{typed:g}° was typed, {known_from} says {known_deg:.1f}°, and "
            f"{typed:g} is what the dial reads for {90 - typed:g}. "
            "Angle between, or dial?"
        )
    return f"{typed:g}° was typed, but {known_from} says {known_deg:.1f}°."
