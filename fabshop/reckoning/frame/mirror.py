"""The mirrored tube: same angles, offset and twist turned; is a twin one?"""

from __future__ import annotations

from fabshop.reckoning.frame.facts import FrameFacts
from fabshop.reckoning.frame.reckon import EndReckoned, TubeReckoned
from fabshop.reckoning.frame.vector import Vector, minus, size

_MM = 0.5
_DEG = 0.5
_AXES = {"x": 0, "y": 1, "z": 2}


def mirrored_twist(twist_deg: float) -> float:
    """The twist of the mirrored tube: the same number the other way round."""
    return -twist_deg + 0.0


def twin_doubt(twist_deg: float, twin_deg: float) -> str:
    """What to say where a twin was given the same twist sign; "" where all is well."""
    half_turn = abs(abs(twist_deg) - 180) < _DEG and abs(abs(twin_deg) - 180) < _DEG
    if abs(twist_deg + twin_deg) <= _DEG or half_turn:
        return ""
    if abs(twist_deg - twin_deg) <= _DEG:
        return (
            f"Both twist by {twist_deg:g}°: that makes two of the same hand. "
            f"The mirrored tube twists by {mirrored_twist(twist_deg):g}°. Mirror it?"
        )
    return (
        f"One twists by {twist_deg:g}°, its twin by {twin_deg:g}°; mirrored it would "
        f"be {mirrored_twist(twist_deg):g}°."
    )


def mirrored(point: Vector, axis: str) -> Vector:
    values = list(point)
    values[_AXES[axis]] = -values[_AXES[axis]] + 0.0
    return (values[0], values[1], values[2])


def mirror_faults(
    facts: FrameFacts, one: TubeReckoned, other: TubeReckoned
) -> tuple[str, ...]:
    """In what `other` is not the mirror image of `one`; empty where it is."""
    ends = _ends_opposite(facts, one, other)
    marks = f"{one.fact.mark} and {other.fact.mark}"
    if ends is None:
        return (f"{marks} do not lie opposite each other across {facts.mirror} = 0.",)
    found = []
    if one.fact.section != other.fact.section:
        found.append(
            f"{one.fact.mark} is {one.fact.section}, {other.fact.mark} is "
            f"{other.fact.section}."
        )
    for mine, its in zip(one.ends, ends, strict=True):
        found += _end_faults(one.fact.mark, mine, other.fact.mark, its)
    long, other_long = one.cut_mm, other.cut_mm
    if long and other_long and abs(long - other_long) > _MM:
        found.append(f"{marks} differ in length: {long:.1f}, {other_long:.1f} mm.")
    found += _twist_faults(one, other)
    return tuple(found)


def _twist_faults(one: TubeReckoned, other: TubeReckoned) -> list[str]:
    mine, its = one.twist_deg, other.twist_deg
    if mine is None or its is None:
        return []
    # Counted from either side of a square end, a twist is the same half a turn on.
    turn = 180 if _has_square(one) or _has_square(other) else 360
    off = abs((mine + its + turn / 2) % turn - turn / 2)
    if off <= _DEG:
        return []
    doubt = twin_doubt(round(mine, 1), round(its, 1))
    return [f"{one.fact.mark} and {other.fact.mark}: {doubt}"] if doubt else []


def _has_square(tube: TubeReckoned) -> bool:
    return any(end.landed is not None and end.landed.is_square for end in tube.ends)


def _ends_opposite(
    facts: FrameFacts, one: TubeReckoned, other: TubeReckoned
) -> tuple[EndReckoned, EndReckoned] | None:
    """The other's ends in the order in which they lie opposite the one's."""
    wanted = [mirrored(facts.nodes[end.node], facts.mirror) for end in one.ends]
    for ends in (other.ends, other.ends[::-1]):
        places = [facts.nodes[end.node] for end in ends]
        if all(size(minus(a, b)) <= _MM for a, b in zip(wanted, places, strict=True)):
            return ends[0], ends[1]
    return None


def _end_faults(
    mark: str, mine: EndReckoned, other: str, its: EndReckoned
) -> list[str]:
    if mine.fact.kind != its.fact.kind:
        return [
            f"{mark} is {mine.fact.kind} at {mine.node}, {other} is {its.fact.kind} "
            f"at {its.node}."
        ]
    if mine.landed is None or its.landed is None:
        return []
    found = []
    if abs(mine.landed.angle_deg - its.landed.angle_deg) > _DEG:
        found.append(
            f"{mark} stands at {mine.landed.angle_deg:.1f}° at {mine.node}, {other} at "
            f"{its.landed.angle_deg:.1f}° at {its.node}."
        )
    offsets = mine.landed.offset_mm, its.landed.offset_mm
    same = abs(offsets[0] + offsets[1]) <= _MM
    if mine.landed.is_square:
        same = abs(abs(offsets[0]) - abs(offsets[1])) <= _MM
    if not same:
        found.append(
            f"{mark} is offset by {offsets[0]:g} mm at {mine.node}; mirrored that is "
            f"{-offsets[0]:g}, but {other} has {offsets[1]:g}."
        )
    return found
