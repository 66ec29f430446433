"""What the log says of the guesses: a factor for each family, and what is left."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from fabshop.reckoning.facts import Facts, FinishedTask, TaskFact
from fabshop.reckoning.window import Bench

# A task that has used up its guess is not free: some minutes are always left.
_LEAST_LEFT = 5


@dataclass(frozen=True)
class Factor:
    """How a family's finished tasks went against their first guesses.

    `lowest` and `highest` are the ratios of single tasks. Below the count at which
    it bites, the factor is 1.0 whatever was logged.
    """

    family: str
    finished: int
    logged_minutes: int
    estimated_minutes: int
    bites: bool
    lowest: float
    highest: float

    @property
    def factor(self) -> float:
        return float(self.exact)

    @property
    def exact(self) -> Fraction:
        """The factor without rounding."""
        if not self.bites:
            return Fraction(1)
        return Fraction(self.logged_minutes, self.estimated_minutes)


@dataclass(frozen=True)
class HoursSummary:
    """Hours there are against hours that are wanted; builds by id, "" is shared."""

    calendar_minutes: int
    first_guess_minutes: dict[str, int]
    factored_by_build: dict[str, int]
    factored_minutes: int
    factors: dict[str, Factor]

    @property
    def first_guess_total(self) -> int:
        return sum(self.first_guess_minutes.values())


def factors(
    finished: Iterable[FinishedTask], *, bites_after: int = 5
) -> dict[str, Factor]:
    """A factor for each family: logged minutes over guessed ones, both summed.

    Tasks without a guess or without logged minutes teach nothing and do not count.
    """
    families: dict[str, list[FinishedTask]] = defaultdict(list)
    for task in finished:
        if task.estimated > 0 and task.logged > 0:
            families[task.family].append(task)
    return {
        family: Factor(
            family=family,
            finished=len(tasks),
            logged_minutes=sum(task.logged for task in tasks),
            estimated_minutes=sum(task.estimated for task in tasks),
            bites=len(tasks) >= bites_after,
            lowest=min(task.logged / task.estimated for task in tasks),
            highest=max(task.logged / task.estimated for task in tasks),
        )
        for family, tasks in sorted(families.items())
    }


def minutes_left(task: TaskFact, factors: Mapping[str, Factor]) -> int:
    """Whole hands-on minutes left: what a person said, else the factored guess.

    What the log has booked is taken off the guess; where it has used it up, a few
    minutes are left all the same. Nothing is left of a finished task.
    """
    return _whole(_exactly_left(task, factors))


def factors_of(facts: Facts) -> dict[str, Factor]:
    """The factors that the shop's own log gives."""
    return factors(facts.finished, bites_after=facts.factor_bites_after)


def hours_summary(facts: Facts) -> HoursSummary:
    """The owner's hours up to the last pack-out against the work that is left.

    Taking down and putting back is not in it: only a planned teardown knows that.
    """
    known = factors_of(facts)
    guessed: dict[str, int] = defaultdict(int)
    factored: dict[str, Fraction] = defaultdict(Fraction)
    for task in facts.tasks:
        if task.is_finished:
            continue
        left = task.minutes if task.left is None else task.left
        guessed[task.build] += left
        factored[task.build] += _exactly_left(task, known)
    bench = Bench(facts.windows, facts.now)
    ends = [build.pack_out for build in facts.builds if build.pack_out]
    calendar = bench.minutes_until(max(ends)) if ends else bench.minutes
    return HoursSummary(
        calendar_minutes=calendar,
        first_guess_minutes=dict(guessed),
        factored_by_build={build: _whole(left) for build, left in factored.items()},
        # Rounded once: the whole minutes of many tasks would add up to more.
        factored_minutes=_whole(sum(factored.values(), Fraction(0))),
        factors=known,
    )


def _exactly_left(task: TaskFact, factors: Mapping[str, Factor]) -> Fraction:
    if task.is_finished:
        return Fraction(0)
    if task.left is not None:
        return Fraction(task.left)
    factor = factors.get(task.family)
    guess = task.minutes * (factor.exact if factor else Fraction(1))
    return max(guess - task.logged, min(guess, Fraction(_LEAST_LEFT)))


def _whole(minutes: Fraction) -> int:
    """Rounded to whole minutes, halves up."""
    return int(minutes + Fraction(1, 2))
