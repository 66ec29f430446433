from collections.abc import Callable
from datetime import datetime
from decimal import Decimal
from typing import Any

import pytest

from fabshop import words
from fabshop.actions.task.parts import (
    set_fallbacks,
    set_needs,
    set_readings,
    set_sites,
    set_stages,
)
from fabshop.errors import BadInput, Clash, NotAllowed, ShopError
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import (
    ComponentFactory,
    FallbackFactory,
    MachineFactory,
    OrderFactory,
    OrderLineFactory,
    ReadingTakenFactory,
    TaskFactory,
)


@pytest.fixture
def task(owner: Person) -> Task:
    return TaskFactory(code="W23")


def test_stages_are_set_in_their_order(
    owner: Person, task: Task, now: datetime
) -> None:
    printer = MachineFactory(code="print-a")
    stages = [
        {"kind": "hands-on", "minutes": 18},
        {"kind": "run", "minutes": 840, "machine": "print-a"},
    ]
    for _ in range(2):
        set_stages(by=owner, task=task, stages=stages, now=now)
    rows = [(s.number, s.kind, s.machine) for s in task.stages.all()]
    assert rows == [(1, "hands-on", None), (2, "run", printer)]
    task.refresh_from_db()
    assert task.version == 3
    assert LogEntry.objects.last().text == "Changed: stages"  # type: ignore[union-attr]


def test_needs_name_a_line_a_rack_or_a_tool(
    owner: Person, task: Task, now: datetime
) -> None:
    screws = OrderLineFactory(order=OrderFactory(code="P14"), quantity_milli=60_000)
    set_needs(
        by=owner,
        task=task,
        needs=[
            {"kind": "order", "line": "P14", "quantity_milli": 14_000},
            {"kind": "order", "line": screws},
            {"kind": "rack", "rack_code": "C06", "note": "half a tin"},
            {"kind": words.NeedKind.TOOL, "rack_code": "torque driver"},
        ],
        now=now,
    )
    assert [(n.line, n.rack_code, n.quantity_milli) for n in task.needs.all()] == [
        (screws, "", 14_000),
        (screws, "", None),
        (None, "C06", None),
        (None, "torque driver", None),
    ]


def test_a_place_belongs_once_in_each_way(
    owner: Person, task: Task, now: datetime
) -> None:
    part = ComponentFactory(build=task.build, code="T13")
    sites = [("reach", "T13"), ("reach", part), ("opens", part)]
    set_sites(by=owner, task=task, sites=sites, now=now)
    assert sorted(site.kind for site in task.sites.all()) == ["opens", "reach"]


def test_a_shared_task_works_at_any_build(owner: Person, now: datetime) -> None:
    shared = TaskFactory(build=None)
    part = ComponentFactory()
    set_sites(by=owner, task=shared, sites=[("fits", part)], now=now)
    assert shared.sites.get().component == part


def test_a_reading_that_was_taken_stays(
    owner: Person, task: Task, now: datetime
) -> None:
    volts = {"label": "Volts", "kind": "number", "unit": "V", "low": Decimal("10.8")}
    tick = {"label": "Lamps", "kind": "tick", "low": Decimal(1)}
    set_readings(by=owner, task=task, readings=[tick, volts], now=now)
    assert [(r.label, r.low) for r in task.readings.all()] == [
        ("Lamps", None),
        ("Volts", Decimal("10.8")),
    ]
    ReadingTakenFactory(reading=task.readings.get(number=2))
    with pytest.raises(Clash, match="“Volts” has been taken already; it stays"):
        set_readings(by=owner, task=task, readings=[tick], now=now)
    assert task.readings.count() == 2


def test_a_chosen_way_of_the_same_title_stays_chosen(
    owner: Person, task: Task, now: datetime
) -> None:
    FallbackFactory(task=task, title="Rivet", chosen_at=now)
    ways = [{"title": "Rivet", "minutes": 24}, {"title": "Leave", "points": None}]
    set_fallbacks(by=owner, task=task, fallbacks=ways, now=now)
    assert [(w.title, w.chosen_at) for w in task.fallbacks.all()] == [
        ("Rivet", now),
        ("Leave", None),
    ]


@pytest.mark.parametrize(
    ("act", "name", "rows", "why"),
    [
        (set_stages, "stages", [{"kind": "nap", "minutes": 5}], "“nap” is none of"),
        (set_stages, "stages", [{"kind": "cure", "minutes": -5}], "-5 is less than"),
        (
            set_stages,
            "stages",
            [{"kind": "run", "minutes": 5, "machine": "mill"}],
            "there is no machine mill",
        ),
        (set_needs, "needs", [{"kind": "order"}], "Line 1: which order line"),
        (set_needs, "needs", [{"kind": "order", "line": "P99/1"}], "no order line P99"),
        (set_needs, "needs", [{"kind": "rack"}], "Line 1: nothing is written"),
        (
            set_needs,
            "needs",
            [{"kind": "rack", "rack_code": "C1", "quantity_milli": 0}],
            "one or more",
        ),
        (set_sites, "sites", [("near", "T13")], "“near” is no way to belong"),
        (set_sites, "sites", [("fits", "T99")], "There is no part T99"),
        (
            set_readings,
            "readings",
            [{"label": "V", "kind": "number", "low": Decimal(2), "high": Decimal(1)}],
            "at least 2, but at most 1",
        ),
        (set_readings, "readings", [{"kind": "tick"}], "Line 1: nothing is written"),
        (set_fallbacks, "fallbacks", [{"title": ""}], "Line 1: nothing is written"),
        (
            set_fallbacks,
            "fallbacks",
            [{"title": "x", "minutes": -1}],
            "Line 1, minutes: -1 is less than nothing",
        ),
    ],
)
def test_what_cannot_be_is_refused_by_its_line(
    owner: Person,
    task: Task,
    now: datetime,
    act: Callable[..., Any],
    name: str,
    rows: list[Any],
    why: str,
) -> None:
    with pytest.raises(ShopError, match=why) as refused:
        act(by=owner, task=task, now=now, **{name: rows})
    assert isinstance(refused.value, BadInput)
    task.refresh_from_db()
    assert task.version == 1


def test_a_machine_is_for_a_run_and_a_place_for_its_build(
    owner: Person, task: Task, now: datetime
) -> None:
    mill = MachineFactory()
    with pytest.raises(BadInput, match="only a run needs a machine"):
        set_stages(
            by=owner,
            task=task,
            stages=[{"kind": "cure", "minutes": 5, "machine": mill}],
            now=now,
        )
    other = ComponentFactory(code="G01", name="Cab")
    with pytest.raises(BadInput, match="G01 Cab is on another build"):
        set_sites(by=owner, task=task, sites=[("fits", other)], now=now)


def test_a_helper_sets_none_of_it(helper: Person, task: Task, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        set_stages(by=helper, task=task, stages=[], now=now)
