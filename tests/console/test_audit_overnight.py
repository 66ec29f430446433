"""Two runs on one machine, of which nobody has said anything, are named."""

from __future__ import annotations

import pytest

from fabshop.console.audit_overnight import OVERNIGHT_CHECKS
from tests.factories import MachineFactory, RunFactory, TaskFactory

pytestmark = pytest.mark.django_db


def test_a_machine_on_two_runs_is_named_and_one_is_not() -> None:
    said = OVERNIGHT_CHECKS["machine-on-two-runs"]
    machine = MachineFactory(name="Small printer")
    RunFactory(machine=machine, task=TaskFactory(code="W51"))
    assert list(said()) == []
    RunFactory(machine=machine, task=TaskFactory(code="W52"))
    assert list(said()) == [
        "Small printer is on W51 and W52 at once: say what the first came to."
    ]
