"""Tasks come out of a table with all that belongs to them."""

import pytest

from fabshop.records.task import Task
from tests.factories import (
    ComponentFactory,
    MachineFactory,
    OrderFactory,
    OrderLineFactory,
)

pytestmark = pytest.mark.django_db


def test_tasks_come_with_stages_needs_sites_and_afters(take, tuppence):
    MachineFactory(code="print-a")
    ComponentFactory(build=tuppence, code="T18")
    OrderLineFactory(order=OrderFactory(code="P05"), quantity_milli=2000)
    table = (
        "code,build,title,minutes,run_minutes,machine,cure_minutes,after,needs,fits,"
        "points,is_required,is_hold\n"
        "W20,T,Fit pod,48,,,,W01,P05:1 C04,T18,-3,yes,\n"
        "W01,T,Start mould,20,14 h,print-a,,,,,0,no,\n"
        "W69,,Sort spares,1 h 36,,,12 h,,,,12,,x\n"
    )
    assert take("tasks", table, accept="all").bad == ()
    pod, mould, spares = (Task.objects.get(code=c) for c in ("W20", "W01", "W69"))
    assert [a.before.code for a in pod.afters.all()] == ["W01"]
    assert [n.quantity_milli for n in pod.needs.all()] == [1000, None]
    assert pod.sites.get().component.code == "T18" and pod.points == -3
    assert list(mould.stages.values_list("kind", "minutes")) == [
        ("hands-on", 20),
        ("run", 840),
    ]
    assert not mould.is_required
    assert spares.build is None and spares.is_hold
    assert spares.estimates.get().minutes == 96


def test_what_nobody_knows_is_told_by_column(take, tuppence):
    table = (
        "code,build,title,minutes,run_minutes,machine,needs,fits,points,is_hold\n"
        "W1,X,A,10,,,,,,\nW2,T,B,10,60,lathe,,,,\nW3,T,C,10,,,P9/1,,,\n"
        "W4,T,D,10,,,,T99,,\nW5,T,E,10,,,,,many,\nW6,T,F,10,,,,,,maybe\n"
    )
    bad = take("tasks", table).bad
    assert [(cell.row, cell.column) for cell in bad] == [
        (2, "build"),
        (3, "machine"),
        (4, "needs"),
        (5, "opens"),
        (6, "points"),
        (7, "is_hold"),
    ]


def test_row_4_a_loop_of_tasks_in_a_table_is_told(take, tuppence):
    """Row 4 in a table."""
    table = "code,build,title,minutes,after\nW1,T,A,9,W2\nW2,T,B,9,W1\n"
    bad = take("tasks", table).bad
    assert any("loop" in cell.message for cell in bad)
