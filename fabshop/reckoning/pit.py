"""At the event: what comes off first, what it takes, and what is to be done again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from fabshop import words
from fabshop.reckoning.facts import ComponentFact, Facts, FasteningFact, TaskFact
from fabshop.reckoning.readiness.shut import Shut, shut_in

LIKELIEST = 10


@dataclass(frozen=True)
class SpareFact:
    """A spare, how many, where it lies, and the places it fits."""

    id: str
    title: str
    quantity: int
    place: str
    fits: tuple[str, ...]


@dataclass(frozen=True)
class PitCard:
    """What it takes to get at one part and have it off; minutes as handled.

    `first` comes off before it, outermost first. `new_nuts` are single-use fastenings
    by size, `unknown` the parts whose minutes nobody has noted (counted as nothing).
    `spares` fit its place, `twin_spare` says that its twin on the build is the same
    part mirrored. `sign_again` are holds whose zone is opened on the way.
    """

    component: ComponentFact
    first: tuple[ComponentFact, ...] = ()
    first_minutes: int = 0
    off_minutes: int = 0
    back_minutes: int = 0
    is_possible: bool = True
    destroys: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    screws: tuple[tuple[str, int], ...] = ()
    lockers: tuple[tuple[str, int], ...] = ()
    new_nuts: tuple[tuple[str, int], ...] = ()
    spares: tuple[SpareFact, ...] = ()
    sign_again: tuple[TaskFact, ...] = ()
    broke_before: int = 0

    @property
    def minutes(self) -> int:
        """All of the handling: off, and back on again."""
        return self.first_minutes + self.off_minutes + self.back_minutes


def pit_card(
    code: str,
    facts: Facts,
    *,
    spares: tuple[SpareFact, ...] = (),
    broke_before: int = 0,
) -> PitCard:
    """The card of one component as the machine stands now. KeyError: no such part."""
    part = facts.component_by_id[code]
    shut = _shut(part, facts)
    if shut.minutes is None:
        return PitCard(part, is_possible=False, broke_before=broke_before)
    first = tuple(facts.component_by_id[name] for name in shut.components)
    handled = (*first, part) if part.is_on else first
    fastenings = [one for each in handled for one in each.fastenings]
    touched = {each.id for each in handled}
    return PitCard(
        component=part,
        first=first,
        first_minutes=shut.minutes,
        off_minutes=(part.off_minutes or 0) if part.is_on else 0,
        back_minutes=sum(each.on_minutes or 0 for each in handled),
        destroys=shut.for_good,
        unknown=tuple(
            each.id
            for each in handled
            if each.off_minutes is None or each.on_minutes is None
        ),
        screws=_counted(one for one in fastenings if one.screw),
        lockers=_by_locker(fastenings),
        new_nuts=_counted(one for one in fastenings if one.single_use),
        spares=tuple(spare for spare in spares if code in spare.fits),
        sign_again=tuple(
            task
            for task in facts.tasks
            if task.is_hold
            and task.build == part.build
            and touched.intersection((*task.opens, *task.reach))
        ),
        broke_before=broke_before,
    )


def likeliest(cards: list[PitCard]) -> list[PitCard]:
    """The ten cards for a small sheet, in the order in which they stand on it.

    Common practice, no more: what broke before, then what there is a spare of, then
    what takes the least minutes to have off and on. What is not there cannot break.
    """
    there = [card for card in cards if card.component.is_on and card.is_possible]
    there = [card for card in there if card.minutes > 0]
    return sorted(
        there,
        key=lambda c: (-c.broke_before, not c.spares, c.minutes, c.component.id),
    )[:LIKELIEST]


def _shut(part: ComponentFact, facts: Facts) -> Shut:
    if not part.is_on:
        return Shut()
    reach = TaskFact(part.id, part.build, part.name, reach=(part.id,))
    return shut_in(reach, facts)


def _counted(fastenings: Iterable[FasteningFact]) -> tuple[tuple[str, int], ...]:
    found: Counter[str] = Counter()
    for one in fastenings:
        found[one.size] += one.count
    return tuple(sorted(found.items()))


def _by_locker(fastenings: list[FasteningFact]) -> tuple[tuple[str, int], ...]:
    found: Counter[str] = Counter()
    for one in fastenings:
        if one.screw and one.locker is not words.Locker.NYLON_NUT:
            found[one.locker.label] += one.count
    return tuple(sorted(found.items()))
