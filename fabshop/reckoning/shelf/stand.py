"""What open tasks want of each consumable against what is there on their day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from fabshop import words
from fabshop.reckoning.facts import ConsumableFact, Facts, NeedFact, TaskFact
from fabshop.reckoning.shelf.day import PlannedDay
from fabshop.reckoning.shelf.keep import keeps_on, last_good_day
from fabshop.units import show_day, show_milli

_BAD = (words.Keeps.GONE_OFF, words.Keeps.GOES_OFF_FIRST)


@dataclass(frozen=True)
class Use:
    """One task that wants some; `quantity_milli` None: nobody has said how much.

    `lacking_milli` is what is not left for it once those before it have had theirs.
    `waived` is the owner's reason to use it gone off.
    """

    thing: ConsumableFact
    task: str
    title: str
    quantity_milli: int | None
    day: PlannedDay
    keeps: words.Keeps
    lacking_milli: int = 0
    waived: str = ""

    @property
    def asked(self) -> str:
        """The figure that the task was planned with; "" where there is none."""
        return "" if self.quantity_milli is None else show_milli(self.quantity_milli)

    @property
    def is_held(self) -> bool:
        """Gone off by today, and nobody has let this task use it all the same."""
        return self.keeps is words.Keeps.GONE_OFF and not self.waived


@dataclass(frozen=True)
class Stand:
    """One consumable: who wants how much of it, and what of that goes wrong."""

    thing: ConsumableFact
    uses: tuple[Use, ...]
    keeps: words.Keeps
    last_good_on: date | None
    wanted_milli: int

    @property
    def short_milli(self) -> int:
        """By how much all that is wanted passes what is left; 0 where it does not."""
        return max(0, self.wanted_milli - max(0, self.thing.left_milli))

    @property
    def unsaid(self) -> tuple[str, ...]:
        """The tasks of which nobody has said how much they take."""
        return tuple(use.task for use in self.uses if use.quantity_milli is None)

    @property
    def too_late(self) -> tuple[Use, ...]:
        """The uses before which it goes off, or has."""
        return tuple(use for use in self.uses if use.keeps in _BAD)

    @property
    def has_dates_unknown(self) -> bool:
        return not self.thing.is_lasting and (
            self.last_good_on is None or _is_opened_in_the_dark(self.thing)
        )

    @property
    def is_miscounted(self) -> bool:
        return self.thing.left_milli < 0

    @property
    def sentence(self) -> str:
        """What is wrong with it, the weightiest first; "" where nothing is known to be.

        A figure below nothing was counted wrong: somebody must look.
        """
        told = []
        if self.is_miscounted:
            told.append(
                f"count wrong by {amount(self.thing, -self.thing.left_milli)}, look"
            )
        told += [said for said in (self._off(), self._short()) if said]
        return "; ".join(told)

    def _off(self) -> str:
        gone = [use.task for use in self.too_late]
        if not gone or self.last_good_on is None:
            return ""
        if self.keeps is words.Keeps.GONE_OFF:
            want = "wants" if len(gone) == 1 else "want"
            return f"gone off {show_day(self.last_good_on)}, {' '.join(gone)} {want} it"
        return f"goes off {show_day(self.last_good_on)}, before {' '.join(gone)}"

    def _short(self) -> str:
        if not self.short_milli:
            return ""
        return (
            f"{amount(self.thing, self.wanted_milli)} wanted, "
            f"{amount(self.thing, self.thing.left_milli)} left: "
            f"short {amount(self.thing, self.short_milli)}"
        )


def stands(
    things: Iterable[ConsumableFact], facts: Facts, days: Mapping[str, PlannedDay]
) -> tuple[Stand, ...]:
    """Each consumable with its uses in the order of their days, unknown ones last."""
    wanted: dict[str, list[tuple[TaskFact, NeedFact]]] = {}
    for task in facts.tasks:
        for need in task.needs:
            if need.kind is words.NeedKind.RACK and not task.is_finished:
                wanted.setdefault(need.name, []).append((task, need))
    today = facts.now.date()
    return tuple(
        _stand(thing, wanted.get(thing.id, ()), days, today) for thing in things
    )


def _stand(
    thing: ConsumableFact,
    wanted: Iterable[tuple[TaskFact, NeedFact]],
    days: Mapping[str, PlannedDay],
    today: date,
) -> Stand:
    rows = sorted(
        ((days.get(task.id, PlannedDay()), task, need) for task, need in wanted),
        key=lambda row: (row[0].on or date.max, row[0].by_on or date.max, row[1].id),
    )
    rest, uses, waived = max(0, thing.left_milli), [], dict(thing.let)
    for day, task, need in rows:
        asked = need.quantity_milli or 0
        lacking = max(0, asked - rest)
        rest = max(0, rest - asked)
        uses.append(
            Use(
                thing=thing,
                task=task.id,
                title=task.title,
                quantity_milli=need.quantity_milli,
                day=day,
                keeps=keeps_on(thing, day.on, today),
                lacking_milli=lacking,
                waived=waived.get(task.id, ""),
            )
        )
    return Stand(
        thing=thing,
        uses=tuple(uses),
        keeps=keeps_on(thing, today, today),
        last_good_on=last_good_day(thing),
        wanted_milli=sum(use.quantity_milli or 0 for use in uses),
    )


def warnings_of(found: Iterable[Stand]) -> dict[str, tuple[str, ...]]:
    """What to say on the page of each task about what it uses up."""
    told: dict[str, list[str]] = {}
    for stand in found:
        for use in stand.uses:
            said = list(_warnings(stand, use))
            if said:
                told.setdefault(use.task, []).extend(said)
    return {task: tuple(said) for task, said in told.items()}


def _warnings(stand: Stand, use: Use) -> Iterable[str]:
    thing, name = stand.thing, f"{stand.thing.id} {stand.thing.name}"
    last = show_day(stand.last_good_on) if stand.last_good_on else ""
    if use.keeps is words.Keeps.GONE_OFF:
        yield f"{name}: gone off since {last}." + (
            f" Let through: {use.waived}" if use.waived else " It is held when used."
        )
    elif use.keeps is words.Keeps.GOES_OFF_FIRST and use.day.on:
        yield f"{name}: goes off {last}, before {show_day(use.day.on)}."
    elif stand.has_dates_unknown:
        yield f"{name}: nobody knows until when it is good."
    elif use.keeps is words.Keeps.UNKNOWN:
        yield f"{name}: good until {last}, but nobody knows on what day this is done."
    elif last and _may_come_late(stand, use):
        yield f"{name}: to be done by {last}, when it goes off."
    if use.lacking_milli:
        yield (
            f"{name}: short {amount(thing, use.lacking_milli)} for this, "
            f"{amount(thing, thing.left_milli)} left for all who want it."
        )


def _may_come_late(stand: Stand, use: Use) -> bool:
    """Good on its first day, but not on the last on which it could be begun."""
    last, day = stand.last_good_on, use.day
    later = max((on for on in (day.late_on, day.by_on) if on), default=None)
    return last is not None and later is not None and last < later


def _is_opened_in_the_dark(thing: ConsumableFact) -> bool:
    return (
        thing.is_opened
        and thing.opened_on is None
        and thing.opened_life_days is not None
    )


def amount(thing: ConsumableFact, milli: int) -> str:
    """Show thousandths of its unit: 145 g, 0.6 can."""
    sign = "−" if milli < 0 else ""
    return f"{sign}{show_milli(abs(milli))} {thing.unit.label}"
