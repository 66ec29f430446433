"""The plan's clock: the shop's zone at the UTC offset that holds now."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from fabshop.records.shop import Shop

# Clock changes are looked for so far ahead; no plan reaches further.
_DAYS_AHEAD = 400
_MINUTE = timedelta(minutes=1)


@dataclass(frozen=True)
class Clock:
    """Turns aware moments into the plan's naive ones and back.

    The offset stays what it was when the clock was made, so that differences on the
    plan are real minutes even across a clock change.
    """

    zone: ZoneInfo
    offset_minutes: int

    def to_plan(self, moment: datetime) -> datetime:
        """An aware moment as the plan's naive one."""
        return moment.astimezone(UTC).replace(tzinfo=None) + self._offset

    def to_aware(self, moment: datetime) -> datetime:
        """A moment of the plan as an aware one in UTC."""
        return (moment - self._offset).replace(tzinfo=UTC)

    def on_wall(self, on: date, minute: int) -> datetime:
        """The plan's moment when the shop's wall clock shows `minute` on that day."""
        wall = datetime.combine(on, time()) + minute * _MINUTE
        return self.to_plan(wall.replace(tzinfo=self.zone))

    def day_of(self, moment: datetime) -> date:
        """The day on the shop's calendar at an aware moment."""
        return moment.astimezone(self.zone).date()

    def wall_shifts(self, from_on: date) -> tuple[tuple[date, int], ...]:
        """The days from which the wall is so many minutes ahead of the plan's clock."""
        shifts: list[tuple[date, int]] = []
        current = 0
        for days in range(_DAYS_AHEAD):
            on = from_on + timedelta(days=days)
            shift = _offset_minutes(self.zone, on) - self.offset_minutes
            if shift != current:
                shifts.append((on, shift))
                current = shift
        return tuple(shifts)

    @property
    def _offset(self) -> timedelta:
        return self.offset_minutes * _MINUTE


def plan_moment(written: str, offset_minutes: int) -> datetime:
    """A moment written in a question or answer (`2031-05-05T18:00`), aware in UTC."""
    naive = datetime.fromisoformat(written)
    return (naive - offset_minutes * _MINUTE).replace(tzinfo=UTC)


def plan_clock(now: datetime, shop: Shop | None = None) -> Clock:
    """The clock of a plan that is made at `now` (aware); UTC where there is no shop."""
    shop = shop or Shop.objects.first()
    zone = ZoneInfo(shop.zone if shop else "UTC")
    offset = now.astimezone(zone).utcoffset() or timedelta()
    return Clock(zone, offset // _MINUTE)


def _offset_minutes(zone: ZoneInfo, on: date) -> int:
    # Clocks change at night: noon tells what holds for the working day.
    noon = datetime.combine(on, time(12), tzinfo=zone)
    return (noon.utcoffset() or timedelta()) // _MINUTE
