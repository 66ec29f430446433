"""Spares are kept by their code with what they fit; what broke is a line of the log."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from fabshop.actions.packout import add_spare, broke, change_spare
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.packout import Spare
from fabshop.records.shop import Person
from tests.factories import ComponentFactory

pytestmark = pytest.mark.django_db


def test_a_spare_fits_the_places_that_are_said(owner: Person, now: datetime) -> None:
    here, there = ComponentFactory(code="T18"), ComponentFactory(code="G17")
    spare = add_spare(
        by=owner, code="SP1", title="Old pod", now=now, fits=[here, there, here]
    )
    assert {fit.component.code for fit in spare.fits.all()} == {"T18", "G17"}
    change_spare(
        by=owner, spare=spare, now=now, quantity=0, place="case 2", fits=[here]
    )
    spare.refresh_from_db()
    assert (spare.quantity, spare.place) == (0, "case 2")
    assert [fit.component.code for fit in spare.fits.all()] == ["T18"]


def test_a_code_is_never_used_again(owner: Person, now: datetime) -> None:
    add_spare(by=owner, code="SP1", title="Old pod", now=now)
    with pytest.raises(Clash, match="never used again"):
        add_spare(by=owner, code="SP1", title="Another", now=now)


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"title": " "}, "title"),
        ({"quantity": -1}, "quantity"),
        ({"code": "?"}, "code"),
    ],
)
def test_what_will_not_do_is_named(
    owner: Person, now: datetime, said: dict[str, object], field: str
) -> None:
    with pytest.raises(BadInput) as error:
        add_spare(**{"by": owner, "code": "SP1", "title": "Pod", "now": now, **said})  # type: ignore[arg-type]
    assert error.value.field == field
    assert not Spare.objects.exists()


def test_only_the_owner_keeps_spares(helper: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        add_spare(by=helper, code="SP1", title="Pod", now=now)


def test_a_breakage_is_logged_once_at_its_own_time_however_late(
    helper: Person, now: datetime
) -> None:
    arm = ComponentFactory(code="T25")
    told = {
        "by": helper,
        "component": arm,
        "now": now,
        "at": now - timedelta(days=3),
        "client_id": "a1",
        "text": "Bent on the slate.",
    }
    assert broke(**told) == broke(**told)
    entry = LogEntry.objects.get()
    assert (entry.kind, entry.at) == ("broke", now - timedelta(days=3))


def test_a_viewer_logs_no_breakage(viewer: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        broke(by=viewer, component=ComponentFactory(), now=now)
