"""Signatures and failures of one hold come in from phones in whatever order."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some

from fabshop import words
from fabshop.actions.task import fail_hold, sign_hold
from fabshop.errors import Clash
from fabshop.records.shop import Person
from fabshop.records.task import HoldSigning, hold_verdict
from tests.factories import MOMENT, TaskFactory

pytestmark = pytest.mark.django_db


@settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    taps=some.lists(
        some.tuples(some.sampled_from(["sign", "fail"]), some.integers(3, 300)),
        min_size=1,
        max_size=5,
    ),
    order=some.randoms(use_true_random=False),
)
def test_it_reads_failed_until_somebody_who_saw_that_signs_again(
    taps: list[tuple[str, int]], order: object, owner: Person
) -> None:
    order.shuffle(taps)  # type: ignore[attr-defined]
    with transaction.atomic():
        task = TaskFactory(code="W23", is_hold=True)
        kept = 0
        for number, (what, minutes_ago) in enumerate(taps):
            at = MOMENT - timedelta(minutes=minutes_ago)
            key = {"client_id": f"tap-{number}", "at": at, "now": MOMENT}
            # Every phone read the hold before anybody had said anything.
            if what == "fail":
                fail_hold(by=owner, task=task, reason="Lamps dead.", **key)
            elif hold_verdict(task.signings.all()) == words.HoldVerdict.SIGNED:
                # Twice signed is once: the second is told so, and has a draft.
                with pytest.raises(Clash, match="is done already"):
                    sign_hold(by=owner, task=task, seen_version=1, **key)
                continue
            else:
                sign_hold(by=owner, task=task, seen_version=1, **key)
            kept += 1
        said = list(HoldSigning.objects.filter(task=task))
        assert len(said) == kept, "none is dropped"
        failed = any(what == "fail" for what, _ in taps)
        wanted = words.HoldVerdict.FAILED if failed else words.HoldVerdict.SIGNED
        assert hold_verdict(said) == wanted
        task.refresh_from_db()
        if failed:
            sign_hold(by=owner, task=task, seen_version=task.version, now=MOMENT)
            assert hold_verdict(task.signings.all()) == words.HoldVerdict.SIGNED
        transaction.set_rollback(True)
