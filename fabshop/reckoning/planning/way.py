"""The ways to do one task: final, Plan B, and what each wants, takes and spares."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import floor

from fabshop import words
from fabshop.reckoning.facts import FallbackFact, TaskFact
from fabshop.reckoning.hours import Factor, minutes_left

FINAL = "final"
PLAN_B = "plan-b"
LEFT = "left"
BY = " by "
"""Who does it in the owner's place stands behind the way: `final by Teodor`."""
SLOT = " after "
"""Which run a run follows on its machine: `final after W50`; `first` where none."""


@dataclass(frozen=True)
class Stretch:
    """Hands-on minutes, and what follows on the clock: a run on a machine, cures."""

    minutes: int
    run: int = 0
    machine: str = ""
    cure: int = 0

    @property
    def tail(self) -> int:
        return self.run + self.cure


@dataclass(frozen=True)
class Variant:
    """One way of a task before anybody or any machine is thought of."""

    id: str
    title: str
    stretches: tuple[Stretch, ...]
    points: int
    is_final: bool
    takes: dict[str, int] = field(default_factory=dict)
    """Thousandths of a store, a spare by the piece."""
    pk: int = 0

    @property
    def minutes(self) -> int:
        return sum(stretch.minutes for stretch in self.stretches)


def variants(
    task: TaskFact, factors: dict[str, Factor], takes: dict[str, int]
) -> tuple[Variant, ...]:
    """The final way first, then each Plan B; a wish leaves only the final one."""
    taken = next((way for way in task.fallbacks if way.chosen), None)
    final = Variant(
        FINAL,
        taken.title if taken else task.title,
        stretches(task, factors),
        task.points,
        is_final=taken is None,
        takes=spares_of(taken) if taken else takes,
        pk=taken.pk if taken else 0,
    )
    if task.wished or taken or task.state is words.TaskState.UNDER_WAY:
        return (final,)
    others = tuple(
        Variant(
            plan_b_id(number),
            way.title,
            (Stretch(factored(way.minutes, task.family, factors)),),
            way.points,
            is_final=False,
            takes=spares_of(way),
            pk=way.pk,
        )
        for number, way in enumerate(task.fallbacks)
    )
    return (final, *others)


def plan_b_id(number: int) -> str:
    return PLAN_B if not number else f"{PLAN_B}-{number + 1}"


def base_of(way: str) -> str:
    """The way of an answer without who does it and on which turn of a machine."""
    return way.split(BY)[0].split(SLOT)[0]


def spares_of(way: FallbackFact) -> dict[str, int]:
    """The spares that a Plan B takes, one piece each."""
    found: dict[str, int] = {}
    for code in way.uses.split():
        found[code] = found.get(code, 0) + 1000
    return found


def factored(minutes: int, family: str, factors: dict[str, Factor]) -> int:
    """Whole minutes by the family's factor, halves up."""
    factor = factors.get(family)
    return floor(minutes * (factor.exact if factor else 1) + 0.5)


def stretches(task: TaskFact, factors: dict[str, Factor]) -> tuple[Stretch, ...]:
    """The task's stages as stretches; what is left of it lies on the hands-on ones.

    A run or a cure that nobody's hands begin has a stretch of no minutes before it.
    """
    left = minutes_left(task, factors)
    hands = [s.minutes for s in task.stages if s.kind is words.StageKind.HANDS_ON]
    shares = _shares(left, hands or [max(1, left)])
    if not task.stages:
        return (Stretch(left),)
    found: list[Stretch] = []
    turn = iter(shares)
    for stage in task.stages:
        if stage.kind is words.StageKind.HANDS_ON:
            found.append(Stretch(next(turn)))
            continue
        if not found:
            found.append(Stretch(0 if hands else left))
        last = found[-1]
        if stage.kind is words.StageKind.CURE:
            found[-1] = Stretch(
                last.minutes, last.run, last.machine, last.cure + stage.minutes
            )
        elif last.tail:
            found.append(Stretch(0, stage.minutes, stage.machine))
        else:
            found[-1] = Stretch(last.minutes, stage.minutes, stage.machine)
    return tuple(found)


def _shares(left: int, guesses: list[int]) -> list[int]:
    """Whole minutes of `left` by the guesses' shares; they add up to what is left."""
    total, given, shares = sum(guesses), 0, []
    if not total:
        return [left, *(0 for _ in guesses[1:])]
    so_far = 0
    for guess in guesses:
        so_far += guess
        upto = floor(left * so_far / total + 0.5)
        shares.append(upto - given)
        given = upto
    return shares
