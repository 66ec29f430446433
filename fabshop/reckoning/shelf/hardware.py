"""The screws, nuts and ties that taking parts off disturbs, against the trays."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from fabshop import words
from fabshop.reckoning.facts import ComponentFact, FasteningFact, TrayFact

_TIE = "tie"


@dataclass(frozen=True)
class TrayRow:
    """So many of one size: to go back, or new ones to take; from which tray.

    `have` is what the trays of that size hold; None where no tray holds any.
    """

    size: str
    count: int
    is_new: bool
    trays: tuple[TrayFact, ...] = ()

    @property
    def have(self) -> int | None:
        if not self.trays:
            return None
        return sum(tray.left_milli for tray in self.trays) // 1000

    @property
    def short(self) -> int:
        """How many new ones are not there; what only goes back is not short."""
        return max(0, self.count - max(0, self.have or 0)) if self.is_new else 0


@dataclass(frozen=True)
class Hardware:
    """What is disturbed: screws by thread, by locker, row by row, and what else."""

    screws: int
    threads: tuple[tuple[str, int], ...]
    lockers: tuple[tuple[words.Locker, int], ...]
    rows: tuple[TrayRow, ...]
    besides: tuple[str, ...]

    @property
    def new(self) -> tuple[TrayRow, ...]:
        return tuple(row for row in self.rows if row.is_new)

    @property
    def missing(self) -> tuple[TrayRow, ...]:
        """The new ones that the trays do not hold."""
        return tuple(row for row in self.new if row.short)


def hardware(parts: Iterable[ComponentFact], trays: Sequence[TrayFact]) -> Hardware:
    """Count what holds these parts. A nut or a tie that is used once must be new."""
    threads: Counter[str] = Counter()
    lockers: Counter[words.Locker] = Counter()
    back: Counter[str] = Counter()
    new: Counter[tuple[str, words.TrayKind]] = Counter()
    besides = []
    for part in parts:
        for one in part.fastenings:
            if one.screw:
                threads[thread_of(one.size)] += one.count
                lockers[one.locker] += one.count
                back[one.size] += one.count
            else:
                besides.append(f"{part.id} {one.count} {one.size}")
            if kind := _used_once(one):
                new[_named(one, kind), kind] += one.count
    rows = [
        TrayRow(size, count, False, _trays_of(size, words.TrayKind.SCREW, trays))
        for size, count in back.most_common()
    ]
    rows += [
        TrayRow(size, count, True, _trays_of(size, kind, trays))
        for (size, kind), count in new.most_common()
    ]
    return Hardware(
        screws=sum(threads.values()),
        threads=tuple(threads.most_common()),
        lockers=tuple(lockers.most_common()),
        rows=tuple(rows),
        besides=tuple(besides),
    )


def thread_of(size: str) -> str:
    """The thread of a size: `M3` of `M3×8 BH` and of `M3 nylon nut`."""
    return size.replace("x", "×").split("×")[0].split(" ")[0]


def _used_once(one: FasteningFact) -> words.TrayKind | None:
    """The kind of tray that new ones of it come from; None where it is used again."""
    if one.locker is words.Locker.NYLON_NUT:
        return words.TrayKind.NUT
    if not one.screw and _TIE in one.size:
        return words.TrayKind.TIE
    if one.single_use:
        return words.TrayKind.SCREW if one.screw else words.TrayKind.OTHER
    return None


def _named(one: FasteningFact, kind: words.TrayKind) -> str:
    return f"{thread_of(one.size)} nut" if kind is words.TrayKind.NUT else one.size


def _trays_of(
    size: str, kind: words.TrayKind, trays: Sequence[TrayFact]
) -> tuple[TrayFact, ...]:
    """Trays of the same size; of nuts those of the same thread, of ties all."""
    same_kind = [tray for tray in trays if tray.kind is kind]
    if kind is words.TrayKind.TIE:
        return tuple(same_kind)
    if kind is words.TrayKind.NUT:
        thread = thread_of(size)
        return tuple(tray for tray in same_kind if thread_of(tray.size) == thread)
    return tuple(tray for tray in same_kind if _plain(tray.size) == _plain(size))


def _plain(size: str) -> str:
    return "".join(size.lower().replace("x", "×").split())
