"""How a checklist stands at a moment: open stops, running marks, stale cleaning."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from fabshop import words
from fabshop.reckoning.prep.facts import StepFact, TickFact

_STAGES = tuple(words.PrepStage)


@dataclass(frozen=True, slots=True)
class StepStand:
    """One step now. `ends_at` is when a start mark has run its minutes."""

    step: StepFact
    tick: TickFact | None
    ends_at: datetime | None = None
    is_done: bool = False

    @property
    def is_running(self) -> bool:
        """Started, and its minutes are not over."""
        return self.ends_at is not None and not self.is_done


@dataclass(frozen=True, slots=True)
class Prep:
    """A checklist now: every step in order, and since when the joint is clean.

    `stale_at` is when the cleaning no longer counts; None where nothing was cleaned.
    """

    stands: tuple[StepStand, ...]
    now: datetime
    cleaned_at: datetime | None = None
    stale_at: datetime | None = None

    @property
    def is_stale(self) -> bool:
        return self.stale_at is not None and self.stale_at < self.now

    def open_stops(self, before: words.PrepStage) -> tuple[StepStand, ...]:
        """The stop steps of this stage and those before it that are not done."""
        until = _STAGES.index(before)
        return tuple(
            stand
            for stand in self.stands
            if stand.step.is_stop
            and not stand.is_done
            and _STAGES.index(stand.step.stage) <= until
        )


def prep_of(
    steps: Sequence[StepFact],
    ticks: Sequence[TickFact],
    now: datetime,
    *,
    clean_minutes: int,
) -> Prep:
    """How the checklist stands at `now`.

    Of several ticks on a step the latest counts, of two at one moment the one given
    last. A start mark is done once its minutes are over; whoever asks earlier is
    told when. What is cleaned again counts from then.
    """
    latest: dict[int, TickFact] = {}
    for tick in sorted(ticks, key=lambda tick: tick.at):
        latest[tick.step] = tick
    stands = tuple(
        _stand(step, latest.get(step.number), now)
        for step in sorted(steps, key=lambda step: step.number)
    )
    cleaned = [
        stand.tick.at
        for stand in stands
        if stand.step.does is words.PrepDoes.CLEANS and stand.is_done and stand.tick
    ]
    # Every cleaning step must be fresh: the one done first goes stale first.
    cleaned_at = min(cleaned, default=None)
    return Prep(
        stands=stands,
        now=now,
        cleaned_at=cleaned_at,
        stale_at=cleaned_at + timedelta(minutes=clean_minutes) if cleaned_at else None,
    )


def _stand(step: StepFact, tick: TickFact | None, now: datetime) -> StepStand:
    if tick is None or not tick.is_done:
        return StepStand(step, tick)
    if step.kind is words.PrepKind.NUMBER:
        return StepStand(step, tick, is_done=tick.value is not None)
    if step.kind is words.PrepKind.MINUTES:
        ends_at = tick.at + timedelta(minutes=tick.minutes or 0)
        return StepStand(step, tick, ends_at, is_done=ends_at <= now)
    return StepStand(step, tick, is_done=True)
