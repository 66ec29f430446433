"""How a task goes: runs and cures, readings of a hold, Plan B."""

import pytest

from fabshop import words
from tests.factories import BuildFactory, MachineFactory, TaskFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def task(shop):
    return TaskFactory(code="W24", build=BuildFactory(), is_hold=True)


def test_stages_are_kept_in_their_order(client, owner, task):
    MachineFactory(code="print-a")
    client.force_login(owner)
    answer = client.post(
        "/tasks/W24/stages/?new=1",
        {
            "r-0-kind": "hands-on",
            "r-0-minutes": "50",
            "r-1-kind": "run",
            "r-1-minutes": "14 h",
            "r-1-machine": "print-a",
            "r-2-kind": "cure",
            "r-2-minutes": "10 h",
        },
    )
    assert answer.url == "/tasks/W24/readings/?new=1"
    assert list(task.stages.values_list("kind", "minutes")) == [
        ("hands-on", 50),
        ("run", 840),
        ("cure", 600),
    ]


def test_a_machine_nobody_has_is_named(client, owner, task):
    client.force_login(owner)
    answer = client.post(
        "/tasks/W24/stages/",
        {"r-0-kind": "run", "r-0-minutes": "60", "r-0-machine": "lathe"},
    )
    assert answer.status_code == 422
    assert "“lathe” is none of this shop" in answer.text


def test_readings_have_bounds_and_units(client, owner, task):
    client.force_login(owner)
    client.post(
        "/tasks/W24/readings/",
        {
            "r-0-label": "Motor turns",
            "r-0-kind": "tick",
            "r-1-label": "Voltage",
            "r-1-kind": "number",
            "r-1-unit": "V",
            "r-1-low": "7,0",
            "r-1-high": "8.4",
        },
    )
    tick, volt = task.readings.all()
    assert tick.kind == words.ReadingKind.TICK
    assert (volt.unit, f"{volt.low:.1f}", f"{volt.high:.1f}") == ("V", "7.0", "8.4")


def test_a_bound_that_is_no_figure_is_named_and_kept(client, owner, task):
    client.force_login(owner)
    answer = client.post(
        "/tasks/W24/readings/",
        {"r-0-label": "Voltage", "r-0-kind": "number", "r-0-low": "low"},
    )
    assert answer.status_code == 422
    assert "At least, line 1: “low” is not a figure." in answer.text
    assert 'value="low"' in answer.text


def test_plan_b_is_kept_with_minutes_and_points(client, owner, task):
    client.force_login(owner)
    answer = client.post(
        "/tasks/W24/fallbacks/",
        {"r-0-title": "Rivet thin sheet", "r-0-minutes": "24", "r-0-points": "1"},
    )
    assert answer.url == "/tasks/W24/"
    way = task.fallbacks.get()
    assert (way.title, way.minutes, way.points) == ("Rivet thin sheet", 24, 1)
    assert "Rivet thin sheet" in client.get("/tasks/W24/").text
