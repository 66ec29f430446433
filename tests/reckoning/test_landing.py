"""What may land after pack-out is said, with both moments."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

from fabshop.reckoning.facts import BuildFact, Facts
from fabshop.reckoning.landing import lands_after_pack_out, ordered_on
from tests.reckoning.test_firm import NOW, ORDER, slips

PACKED = datetime(2027, 9, 10, 12)


def shop(pack_out: datetime | None = PACKED, **more: object) -> Facts:
    build = BuildFact(id="b", name="B", pack_out=pack_out)
    return Facts(now=NOW, builds=(build,), orders=(ORDER,), **more)  # type: ignore[arg-type]


def test_what_is_late_before_pack_out_says_nothing() -> None:
    assert lands_after_pack_out(shop(), ORDER) is None


def test_what_is_late_after_it_may_land_then() -> None:
    landing = lands_after_pack_out(shop(slips=slips(9, 9, 9)), ORDER)
    assert landing is not None
    assert not landing.likely
    assert landing.said.startswith("It may land after pack-out: late Wed 15 Sep")


def test_what_is_likely_after_it_lands_then() -> None:
    landing = lands_after_pack_out(shop(datetime(2027, 9, 5, 12)), ORDER)
    assert landing is not None
    assert landing.likely
    assert "It lands after pack-out" in landing.said


def test_without_a_pack_out_there_is_nothing_to_be_late_for() -> None:
    assert lands_after_pack_out(shop(None), ORDER) is None


def test_at_ordering_the_same_is_said_of_the_day_it_would_be_sent() -> None:
    unsent = replace(ORDER, sent_on=None)
    assert ordered_on(shop(), unsent, date(2027, 9, 3)) is None
    landing = ordered_on(shop(), unsent, date(2027, 9, 4))
    assert landing is not None
    assert not landing.likely
    unknown = replace(unsent, lead_late_days=None, lead_likely_days=None)
    assert ordered_on(shop(), unknown, date(2027, 9, 5)) is None
