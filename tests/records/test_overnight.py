"""A run ends after it began, says how it ended, and why where it failed."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from fabshop.records.overnight import Run
from fabshop.records.shop import Machine
from tests.factories import MOMENT, PersonFactory, TaskFactory
from tests.records.refused import refused

pytestmark = pytest.mark.django_db
LATER = MOMENT + timedelta(hours=9)


def a_run(**changed: Any) -> Run:
    row = {
        "task": TaskFactory(),
        "machine": Machine.objects.get_or_create(code="print-B", name="Big one")[0],
        "minutes": 540,
        "person": PersonFactory(),
        "begun_at": MOMENT,
        "due_at": LATER,
    }
    return Run.objects.create(**(row | changed))


@pytest.mark.parametrize(
    ("name", "changed"),
    [
        ("run_verdict_known", {"verdict": "perhaps", "ended_at": LATER}),
        ("run_ended_says_how", {"verdict": "came-out"}),
        ("run_ended_says_how", {"ended_at": LATER}),
        (
            "run_ends_after_it_begins",
            {"verdict": "came-out", "ended_at": MOMENT - timedelta(minutes=1)},
        ),
        ("run_due_after_it_begins", {"due_at": MOMENT - timedelta(minutes=1)}),
        ("run_failed_has_a_cause", {"verdict": "failed", "ended_at": LATER}),
    ],
)
def test_what_may_never_be_is_refused(name: str, changed: dict[str, Any]) -> None:
    with refused(name):
        a_run(**changed)


def test_runs_that_nobody_has_spoken_of_are_found() -> None:
    run = a_run()
    a_run(verdict="came-out", ended_at=LATER)
    a_run(is_taken_back=True)
    assert list(Run.objects.unsaid()) == [run]
