"""A plan stands until the shop changes; then it says what differs."""

from __future__ import annotations

from datetime import datetime, timedelta

from fabshop.actions.build import change_component
from fabshop.actions.log import start_work, stop_work
from fabshop.actions.order import Count, promise, receive_parcel
from fabshop.actions.plan import (
    accept_plan,
    add_task_to_plan,
    ask_teardown,
    plan_change,
    tick_to,
)
from fabshop.actions.task import set_after
from fabshop.reckoning.batching import steps_that_differ
from fabshop.records.build import Build, Component
from fabshop.records.order import Order
from fabshop.records.plan import Plan
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import (
    ComponentFactory,
    CoverFactory,
    EstimateFactory,
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    PromiseFactory,
    TaskFactory,
)


def test_time_and_the_plans_own_ticks_change_nothing(
    accepted: Plan, owner: Person, now: datetime
) -> None:
    assert not plan_change(plan=accepted, now=now).has_changed
    tick_to(by=owner, plan=accepted, number=2, now=now)
    later = now + timedelta(hours=13)
    assert not plan_change(plan=accepted, now=later).has_changed


def test_longer_handling_moves_the_times_and_not_the_steps(
    accepted: Plan, owner: Person, now: datetime
) -> None:
    change_component(
        by=owner, component=Component.objects.get(code="R01"), off_minutes=30, now=now
    )
    change = plan_change(plan=accepted, now=now, look_into=True)
    assert change.sentence == (
        "The shop has changed since edition A: the steps stay, their times move."
    )
    assert change.was_in_hand is not None
    assert change.now_in_hand == change.was_in_hand - 26


def test_another_cover_changes_the_steps(
    accepted: Plan, wren: Build, now: datetime
) -> None:
    hoop = ComponentFactory(build=wren, code="R03", off_minutes=5, on_minutes=5)
    CoverFactory(under=Component.objects.get(code="R01"), cover=hoop)
    quick = plan_change(plan=accepted, now=now)
    assert quick.has_changed
    assert not quick.looked_into
    assert quick.sentence == "The shop has changed since edition A."
    change = plan_change(plan=accepted, now=now, look_into=True)
    assert "differ" in change.sentence or "more" in change.sentence


def test_work_beside_the_plan_and_its_parcel_are_no_change_of_it(
    accepted: Plan, wren: Build, owner: Person, now: datetime
) -> None:
    line = OrderLineFactory(order=OrderFactory(move="firm", sent_on=now.date()))
    beside = TaskFactory(build=wren, code="W50")
    EstimateFactory(task=beside, minutes=30)
    NeedFactory(task=beside, kind="order", line=line)
    receive_parcel(
        by=owner, order=line.order, counts=[Count(line, accepted_milli=1000)], now=now
    )
    start_work(by=owner, task=beside, now=now)
    stop_work(by=owner, now=now + timedelta(minutes=20))
    later = now + timedelta(minutes=20)
    assert not plan_change(plan=accepted, now=later).has_changed


def test_what_the_plan_waits_for_beside_it_is_a_change_of_it(
    accepted: Plan, wren: Build, owner: Person, now: datetime
) -> None:
    line = OrderLineFactory(order=OrderFactory(move="firm", sent_on=now.date()))
    PromiseFactory(order=line.order, eta_on=now.date())
    before = TaskFactory(build=wren, code="W50")
    EstimateFactory(task=before, minutes=30)
    NeedFactory(task=before, kind="order", line=line)
    set_after(by=owner, task=Task.objects.get(code="W01"), after=["W50"], now=now)
    assert plan_change(plan=accepted, now=now).has_changed
    again = accept_plan(
        by=owner, plan=ask_teardown(by=owner, build=wren, now=now), now=now
    )
    assert not plan_change(plan=again, now=now).has_changed
    receive_parcel(
        by=owner, order=line.order, counts=[Count(line, accepted_milli=1000)], now=now
    )
    assert plan_change(plan=again, now=now).has_changed


def test_what_no_longer_fits_is_named_beside_the_time_it_leaves(
    accepted: Plan, owner: Person, now: datetime
) -> None:
    change_component(
        by=owner,
        component=Component.objects.get(code="R02"),
        off_minutes=400,
        on_minutes=400,
        now=now,
    )
    change = plan_change(plan=accepted, now=now, look_into=True)
    assert change.sentence.endswith("; W01 can no longer be done in time.")


def test_a_small_change_in_the_demo_moves_no_step_that_need_not_move(
    demo_plan: Plan, odile: Person, now: datetime
) -> None:
    dash = Component.objects.get(code="T10")
    change_component(
        by=odile, component=dash, on_minutes=(dash.on_minutes or 0) + 2, now=now
    )
    kit = Order.objects.get(code="P12")
    latest = kit.promises.get(eta_on="2027-09-10")
    promise(by=odile, order=kit, eta_on=latest.eta_on + timedelta(days=1), now=now)
    change = plan_change(plan=demo_plan, now=now, look_into=True)
    assert change.sentence == (
        "The shop has changed since edition A: the steps stay, their times move."
    )


def test_a_plan_asked_again_keeps_to_the_accepted_order(
    demo_plan: Plan, odile: Person, now: datetime
) -> None:
    late = Task.objects.get(code="W11")
    again = add_task_to_plan(by=odile, plan=demo_plan, task=late, now=now)
    assert again.answer["status"] == "optimal"
    assert steps_that_differ(demo_plan.answer, again.answer) == (
        "3 steps more before step 43"
    )
