"""Reckons a frame: lengths, copes, twists, masses, and what is not computed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from fabshop.reckoning.frame.angle import doubt_about, feather_warning
from fabshop.reckoning.frame.axis import Axis, NoAxis, Straight, axis_through
from fabshop.reckoning.frame.cluster import overlaps
from fabshop.reckoning.frame.facts import EndFact, FrameFacts, TubeFact
from fabshop.reckoning.frame.landing import (
    FEATHER_DEG,
    ON_AXIS_MM,
    Coped,
    Landing,
    coped,
    landing,
    off_axis_mm,
    straight_at,
)
from fabshop.reckoning.frame.mass import Mouth, Solid, solid_of
from fabshop.reckoning.frame.vector import Vector, minus, size, times, turn_deg

_SWEEPS = 60
_STILL_MM = 1e-10


@dataclass(frozen=True)
class EndReckoned:
    """One end as it is cut; `why_not` says in words why it has no cope."""

    fact: EndFact
    node: str
    landed: Landing | None = None
    cope: Coped | None = None
    main_mm: float = 0.0
    past_mm: float = 0.0
    acute_to: str = ""
    why_not: str = ""
    notes: tuple[str, ...] = ()

    @property
    def reach_mm(self) -> float:
        """From the crossing to the tube's long point; negative where it runs past."""
        return self.cope.shortest_mm if self.cope else -self.past_mm

    @property
    def mouth(self) -> Mouth:
        if self.cope:
            return Mouth(self.landed, self.main_mm)
        return Mouth(past_mm=self.past_mm)


@dataclass(frozen=True)
class TubeReckoned:
    """`between_mm` runs from crossing to crossing, `cut_mm` from long point to long.

    Both along the centreline, bends developed. `twist_deg` is where the acute line of
    the other end lies, the same number at both ends; None without two copes.
    """

    fact: TubeFact
    axis: Axis | None
    ends: tuple[EndReckoned, EndReckoned]
    twist_deg: float | None = None
    between_mm: float | None = None
    cut_mm: float | None = None
    mass_g: float | None = None
    solid: Solid | None = None
    notes: tuple[str, ...] = ()

    @property
    def said(self) -> tuple[str, ...]:
        """All that is to be said of it, its ends first."""
        return (
            *(why for end in self.ends for why in (end.why_not, *end.notes) if why),
            *self.notes,
        )


@dataclass(frozen=True)
class SectionTotal:
    section: str
    material: str
    count: int
    cut_mm: float
    mass_g: float | None


@dataclass(frozen=True)
class FrameReckoned:
    """The tubes and what they come to; `unknown` are left out of the mass."""

    tubes: tuple[TubeReckoned, ...]
    sections: tuple[SectionTotal, ...]
    mass_g: float
    centre: Vector | None
    unknown: tuple[str, ...]
    notes: tuple[str, ...] = ()

    def tube(self, mark: str) -> TubeReckoned:
        return next(tube for tube in self.tubes if tube.fact.mark == mark)


def reckon_frame(facts: FrameFacts) -> FrameReckoned:
    """Everything that follows from the nodes and tubes of a frame."""
    axes, faults = _axes(facts)
    ends = {
        tube.mark: (_end(facts, axes, tube, 0), _end(facts, axes, tube, 1))
        for tube in facts.tubes
    }
    ends = _run_past(facts, axes, ends)
    met = overlaps(facts, axes, ends)
    tubes = tuple(
        _tube(tube, axes.get(tube.mark), ends[tube.mark], faults, met)
        for tube in facts.tubes
    )
    known = [tube for tube in tubes if tube.mass_g is not None]
    mass = sum(tube.mass_g or 0.0 for tube in known)
    moment = Solid()
    for tube in known:
        if tube.solid and tube.fact.density:
            moment += Solid(
                tube.solid.volume_mm3 * tube.fact.density,
                times(tube.solid.moment, tube.fact.density),
            )
    return FrameReckoned(
        tubes,
        _sections(tubes),
        mass,
        moment.centre if moment.volume_mm3 else None,
        tuple(tube.fact.mark for tube in tubes if tube.mass_g is None),
    )


def _axes(facts: FrameFacts) -> tuple[dict[str, Axis], dict[str, str]]:
    """The true centrelines: an offset moves a tube's end, which turns the tube a
    little, which moves what lands on it; gone round until nothing moves.
    """
    places = {t.mark: [facts.nodes[n] for n in t.nodes] for t in facts.tubes}
    radii = {t.mark: [bend.radius_mm for bend in t.bends] for t in facts.tubes}
    axes: dict[str, Axis] = {}
    faults: dict[str, str] = {}
    for _ in range(_SWEEPS):
        moved = 0.0
        for tube in facts.tubes:
            try:
                axes[tube.mark] = axis_through(places[tube.mark], radii[tube.mark])
            except NoAxis as why:
                axes.pop(tube.mark, None)
                faults[tube.mark] = f"{tube.mark} is not computed: {why}."
        for tube in facts.tubes:
            for which, place in ((0, 0), (1, -1)):
                landed = _landing(facts, axes, tube, which)
                if landed:
                    was = places[tube.mark][place]
                    moved = max(moved, size(minus(landed.crossing, was)))
                    places[tube.mark][place] = landed.crossing
        if moved < _STILL_MM:
            break
    return axes, faults


def _main(
    facts: FrameFacts, axes: dict[str, Axis], tube: TubeFact, which: int
) -> Straight | None:
    end, node = tube.ends[which], (tube.start, tube.end)[which]
    if end.kind != "coped" or end.onto not in axes or end.onto == tube.mark:
        return None
    return straight_at(facts.nodes[node], axes[end.onto])


def _landing(
    facts: FrameFacts, axes: dict[str, Axis], tube: TubeFact, which: int
) -> Landing | None:
    main, axis = _main(facts, axes, tube, which), axes.get(tube.mark)
    if main is None or axis is None:
        return None
    along = times(axis.last.along, -1) if which else axis.first.along
    node = facts.nodes[(tube.start, tube.end)[which]]
    return landing(node, along, main, tube.ends[which].offset_mm)


def _end(
    facts: FrameFacts, axes: dict[str, Axis], tube: TubeFact, which: int
) -> EndReckoned:
    fact, node = tube.ends[which], (tube.start, tube.end)[which]
    plain = EndReckoned(fact, node)
    here = f"{tube.mark} at {node}"
    if fact.kind == "plate":
        why = f"{here} is not computed: a tube onto a plate has no cope."
        return replace(plain, why_not=why)
    if fact.kind == "through":
        return replace(plain, past_mm=fact.past_mm or 0.0)
    onto = facts.tube_by_mark.get(fact.onto)
    if onto is None or onto is tube:
        return replace(plain, why_not=f"{here}: nothing is said of what it lands on.")
    if _lands_back(onto, node, tube.mark):
        why = (
            f"{here} is coped onto {onto.mark}, and {onto.mark} onto {tube.mark}. "
            "Say which of them runs through."
        )
        return replace(plain, why_not=why)
    main = _main(facts, axes, tube, which)
    if main is None or tube.mark not in axes:
        what = "a bend" if onto.bends and onto.mark in axes else "its centreline"
        why = f"{here} is not computed: it lands on {what} of {onto.mark}."
        return replace(plain, why_not=why)
    landed = _landing(facts, axes, tube, which)
    if landed is None:
        why = f"{here} is not computed: it runs along {onto.mark}."
        return replace(plain, why_not=why)
    # A main that is itself moved by an offset at its end passes the node that far off.
    allowed = ON_AXIS_MM + max(abs(end.offset_mm) for end in onto.ends)
    off = off_axis_mm(facts.nodes[node], main)
    if off > allowed:
        why = (
            f"{here} does not meet {onto.mark}: the node lies {off:.1f} mm from its "
            "centreline."
        )
        return replace(plain, why_not=why)
    acute_to = onto.end if _points_on(landed, main) else onto.start
    known = replace(plain, landed=landed, main_mm=onto.od_mm, acute_to=acute_to)
    if abs(fact.offset_mm) + tube.od_mm / 2 > onto.od_mm / 2 + 1e-9:
        over = abs(fact.offset_mm) + tube.od_mm / 2 - onto.od_mm / 2
        why = (
            f"{here} wraps past the mate: it reaches {over:.2f} mm beyond the side of "
            f"{onto.mark}, so there is no template."
        )
        return replace(known, why_not=why)
    return replace(
        known,
        cope=coped(landed, tube.od_mm, tube.wall_mm, onto.od_mm),
        notes=tuple(_warnings(fact, landed, here)),
    )


def _lands_back(onto: TubeFact, node: str, mark: str) -> bool:
    return any(
        at == node and end.kind == "coped" and end.onto == mark
        for at, end in zip((onto.start, onto.end), onto.ends, strict=True)
    )


def _points_on(landed: Landing, main: Straight) -> bool:
    return sum(a * b for a, b in zip(landed.main_along, main.along, strict=True)) > 0


def _warnings(fact: EndFact, landed: Landing, here: str) -> Iterable[str]:
    if landed.angle_deg < FEATHER_DEG:
        yield f"{here}: {feather_warning(landed.angle_deg)}"
    if fact.typed_deg is not None:
        doubt = doubt_about(fact.typed_deg, landed.angle_deg, "the frame")
        if doubt:
            yield f"{here}: {doubt}"


def _run_past(
    facts: FrameFacts,
    axes: dict[str, Axis],
    ends: dict[str, tuple[EndReckoned, EndReckoned]],
) -> dict[str, tuple[EndReckoned, EndReckoned]]:
    """Let each end that runs through go as far as what lands on it needs, or say so."""
    found = dict(ends)
    for tube in facts.tubes:
        axis = axes.get(tube.mark)
        if axis is None:
            continue
        made = list(ends[tube.mark])
        for which, end in enumerate(made):
            if end.fact.kind != "through":
                continue
            out = axis.last.along if which else times(axis.first.along, -1)
            place = axis.last.end if which else axis.first.start
            needs = {
                mark: past
                for mark, pair in ends.items()
                for one in pair
                if one.cope and one.fact.onto == tube.mark
                for past in [_past(one, out, place)]
                if past > 1e-6
            }
            if not needs:
                continue
            farthest = max(needs, key=needs.__getitem__)
            if end.fact.past_mm is None:
                made[which] = replace(end, past_mm=needs[farthest])
            elif end.past_mm < needs[farthest] - 1e-6:
                note = (
                    f"{farthest} lands {needs[farthest] - end.past_mm:.1f} mm past the "
                    f"end of {tube.mark} at {end.node}: let it run on."
                )
                made[which] = replace(end, notes=(*end.notes, note))
        found[tube.mark] = (made[0], made[1])
    return found


def _past(end: EndReckoned, out: Vector, place: Vector) -> float:
    """How far beyond `place` along `out` the saddle of an end lies on its main."""
    if end.landed is None or end.cope is None:
        return 0.0
    at = sum(
        (c - p) * o for c, p, o in zip(end.landed.crossing, place, out, strict=True)
    )
    towards = sum(m * o for m, o in zip(end.landed.main_along, out, strict=True))
    return at + (end.cope.after_mm if towards > 0 else end.cope.before_mm)


def _tube(
    fact: TubeFact,
    axis: Axis | None,
    ends: tuple[EndReckoned, EndReckoned],
    faults: dict[str, str],
    met: dict[str, tuple[str, ...]],
) -> TubeReckoned:
    if axis is None:
        return TubeReckoned(fact, None, ends, notes=(faults[fact.mark],))
    ends, twist = _twisted(axis, ends)
    between = axis.developed_mm
    notes = list(met.get(fact.mark, ()))
    cut = None
    if not any(end.why_not for end in ends):
        cut = between - ends[0].reach_mm - ends[1].reach_mm
        for end, straight in zip(ends, (axis.first, axis.last), strict=True):
            if axis.arcs and end.cope and end.cope.longest_mm > straight.length_mm:
                notes.append(
                    f"{fact.mark} at {end.node}: the cope reaches into the bend, "
                    "where it is not computed."
                )
        if cut <= 0:
            cut = None
            notes.append(f"{fact.mark} has no length left between its copes.")
    solid = mass = None
    if cut is not None:
        mouths = (ends[0].mouth, ends[1].mouth)
        solid = solid_of(axis, fact.od_mm, fact.wall_mm, mouths)
        if fact.density is not None:
            mass = solid.volume_mm3 * fact.density / 1000
    return TubeReckoned(
        fact, axis, ends, twist, between, cut, mass, solid, tuple(notes)
    )


def _twisted(
    axis: Axis, ends: tuple[EndReckoned, EndReckoned]
) -> tuple[tuple[EndReckoned, EndReckoned], float | None]:
    """Where the other end's acute line lies, over -180 to 180.

    A square end has two sides alike; it is counted from the one that makes the twist
    smaller, so a tube square at either end twists by 90 at most.
    """
    first, last = ends
    if first.landed is None or last.landed is None:
        return ends, None
    twist = turn_deg(
        axis.carried(first.landed.acute), last.landed.acute, axis.last.along
    )
    if abs(twist) > 90 + 1e-9 and last.landed.is_square:
        last = replace(last, landed=last.landed.turned_over())
        twist += 180 if twist < 0 else -180
    elif abs(twist) > 90 + 1e-9 and first.landed.is_square:
        first = replace(first, landed=first.landed.turned_over())
        twist += 180 if twist < 0 else -180
    return (first, last), twist + 0.0


def _sections(tubes: Iterable[TubeReckoned]) -> tuple[SectionTotal, ...]:
    found: dict[tuple[str, str], list[TubeReckoned]] = {}
    for tube in tubes:
        key = (tube.fact.material, tube.fact.section)
        found.setdefault(key, []).append(tube)
    return tuple(
        SectionTotal(
            section,
            material,
            len(group),
            sum(tube.cut_mm or 0.0 for tube in group),
            None
            if any(tube.mass_g is None for tube in group)
            else sum(tube.mass_g or 0.0 for tube in group),
        )
        for (material, section), group in sorted(found.items())
    )
