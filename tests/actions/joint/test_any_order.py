"""No order of taps accepts past an open stop, or closes over what is not accepted."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.db import transaction
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from fabshop import words
from fabshop.actions.build import put_on, take_off
from fabshop.actions.joint import (
    accept_joint,
    call_colour,
    change_template,
    move_joint,
    reject_joint,
    set_joint_covers,
    strip_cover,
    tick_step,
)
from fabshop.actions.log import finish_work, start_work, undo_entry
from fabshop.actions.task import fail_hold, reopen_task, sign_hold, waive_hold
from fabshop.errors import ShopError
from fabshop.records.joint import Joint, JointCover, PrepTick
from fabshop.records.log import LogEntry
from fabshop.records.task import Task, hold_verdict
from tests.factories import (
    MOMENT,
    ComponentFactory,
    CoverFactory,
    JointFactory,
    PersonFactory,
    ShopFactory,
    SiteFactory,
    TaskFactory,
)

STEPS = (
    {"text": "Degreased", "stage": "tack", "is_stop": True},
    {"text": "Wiped", "stage": "tack", "is_stop": True, "does": "cleans"},
    {"text": "Purge", "stage": "weld", "is_stop": True, "kind": "minutes"},
    {"text": "Gap", "stage": "weld", "kind": "number"},
    {"text": "Cooled", "stage": "look", "is_stop": True},
)
STOPS = {1, 2, 3, 5}
EIGHT_HOURS = timedelta(hours=8)
_JOINT = st.integers(0, 1)


class AnyOrder(RuleBasedStateMachine):
    """Two twins under paint and a panel that also lies over a hold's zone.

    What must hold is reckoned here anew from the bare rows, not by the code that is
    tested: the latest tick of every stop step of the attempt is done and, for a
    purge, its minutes are over.
    """

    def __init__(self) -> None:
        super().__init__()
        self.atomic = transaction.atomic()
        self.atomic.__enter__()
        ShopFactory()
        self.now = MOMENT
        self.owner = PersonFactory(role=words.Role.OWNER)
        self.helper = PersonFactory(role=words.Role.HELPER)
        said = {"by": self.owner, "now": self.now}
        change_template(metal="stainless", steps=STEPS, wants_colour=True, **said)
        left = JointFactory()
        right = JointFactory(build=left.build, twin=left)
        Joint.objects.filter(pk=left.pk).update(twin=right)
        self.joints = (left, right)
        self.paint = TaskFactory(build=left.build)
        zone = ComponentFactory(build=left.build)
        self.panel = ComponentFactory(build=left.build, is_on=False)
        CoverFactory(under=zone, cover=self.panel)
        self.hold = TaskFactory(build=left.build, is_hold=True)
        SiteFactory(task=self.hold, component=zone, kind="opens")
        set_joint_covers(
            joint=left,
            tasks=[("paints", self.paint)],
            components=[self.panel],
            **said,
        )

    def teardown(self) -> None:
        transaction.set_rollback(True)
        self.atomic.__exit__(None, None, None)

    def tap(self, action: Callable[..., Any], **said: Any) -> None:
        try:
            with transaction.atomic():
                action(now=self.now, **said)
        except ShopError as refusal:
            assert refusal.message

    def joint(self, which: int) -> Joint:
        return Joint.objects.get(pk=self.joints[which].pk)

    @rule(minutes=st.sampled_from([0, 1, 3, 60, 540]))
    def time_passes(self, minutes: int) -> None:
        self.now += timedelta(minutes=minutes)

    @rule(
        which=_JOINT,
        number=st.integers(1, 5),
        done=st.sampled_from([True, True, True, False]),
        ago=st.sampled_from([0, 0, 2]),
    )
    def tick(self, which: int, number: int, done: bool, ago: int) -> None:
        self.tap(
            tick_step,
            by=self.helper,
            joint=self.joint(which),
            number=number,
            is_done=done,
            value=Decimal(1),
            minutes=3,
            at=self.now - timedelta(minutes=ago),
        )

    @rule(which=_JOINT, ready=st.integers(1, 5))
    def tick_all_up_to(self, which: int, ready: int) -> None:
        for number in range(1, ready + 1):
            self.tick(which, number, True, 0)
        self.now += timedelta(minutes=3)

    @rule(
        which=_JOINT, state=st.sampled_from(list(words.JointState)), owns=st.booleans()
    )
    def move(self, which: int, state: words.JointState, owns: bool) -> None:
        by = self.owner if owns else self.helper
        reason = "bagged" if owns else ""
        self.tap(move_joint, by=by, joint=self.joint(which), state=state, reason=reason)

    @rule(which=_JOINT, state=st.sampled_from(["tacked", "welded"]))
    def move_on(self, which: int, state: str) -> None:
        self.tap(move_joint, by=self.helper, joint=self.joint(which), state=state)

    @rule(which=_JOINT, colour=st.sampled_from(["silver", "grey"]))
    def call(self, which: int, colour: str) -> None:
        verdict = "accept" if colour == "silver" else "reject"
        self.tap(
            call_colour,
            by=self.helper,
            joint=self.joint(which),
            colour=colour,
            verdict=verdict,
            third="again",
        )

    @rule(which=_JOINT, owns=st.booleans(), waived=st.sampled_from(["", "", "brushed"]))
    def accept(self, which: int, owns: bool, waived: str) -> None:
        self.tap(
            accept_joint,
            by=self.owner if owns else self.helper,
            joint=self.joint(which),
            looked="seen",
            waive_colour=waived,
        )

    @rule(which=_JOINT, ready=st.sampled_from([2, 3, 4, 5, 5]))
    def weld_through(self, which: int, ready: int) -> None:
        """The whole way in one, so that what comes after it is reached."""
        self.tick_all_up_to(which, ready)
        self.move_on(which, "welded")
        self.call(which, "silver")
        self.accept(which, True, "")

    @rule(which=_JOINT)
    def reject(self, which: int) -> None:
        self.tap(
            reject_joint,
            by=self.helper,
            joint=self.joint(which),
            reason="crack",
            third="again",
        )

    @rule(back=st.integers(0, 3))
    def undo(self, back: int) -> None:
        entries = list(LogEntry.objects.exclude(kind="undo").order_by("-pk")[:4])
        if back < len(entries):
            self.tap(undo_entry, by=self.owner, entry=entries[back])

    @rule(what=st.sampled_from(["start", "finish", "reopen"]))
    def paint_it(self, what: str) -> None:
        was = set(_states(self.joints[:1]))
        painted = self._is_painted()
        action = {"start": start_work, "finish": finish_work, "reopen": reopen_task}
        self.tap(action[what], by=self.owner, task=self.paint, confirm=True) if (
            what == "finish"
        ) else self.tap(action[what], by=self.owner, task=self.paint)
        if self._is_painted() and not painted:
            assert was == {words.JointState.ACCEPTED}

    @rule()
    def strip(self) -> None:
        cover = JointCover.objects.get(task=self.paint)
        self.tap(strip_cover, by=self.helper, cover=cover, reason="stripper")

    @rule(on=st.booleans())
    def panel_on_or_off(self, on: bool) -> None:
        self.panel.refresh_from_db()
        was_on, states = self.panel.is_on, set(_states(self.joints[:1]))
        passed = self._hold_passed()
        action = put_on if on else take_off
        self.tap(action, by=self.owner, component=self.panel)
        self.panel.refresh_from_db()
        if self.panel.is_on and not was_on:
            assert states == {words.JointState.ACCEPTED}
            assert passed

    @rule(what=st.sampled_from(["sign", "waive", "fail"]), owns=st.booleans())
    def say_of_the_hold(self, what: str, owns: bool) -> None:
        by = self.owner if owns else self.helper
        verbs: dict[str, Callable[..., Any]] = {
            "sign": sign_hold,
            "waive": waive_hold,
            "fail": fail_hold,
        }
        said = {} if what == "sign" else {"reason": "because"}
        was = self._hold_passed()
        self.tap(verbs[what], by=by, task=self.hold, **said)
        if self._hold_passed() and not was:
            assert owns

    @invariant()
    def nothing_is_accepted_past_an_open_stop(self) -> None:
        for joint in Joint.objects.filter(state="accepted"):
            run = joint.runs.get(attempt=joint.reworks)
            done = {
                tick.step.number
                for tick in _latest(run.pk)
                if tick.is_done
                and tick.at + timedelta(minutes=tick.minutes or 0) <= self.now
            }
            assert done >= STOPS
            assert joint.inspect_why == ""

    @invariant()
    def nothing_is_welded_past_an_open_stop(self) -> None:
        for joint in Joint.objects.filter(state__in=["tacked", "welded"]):
            run = joint.runs.get(attempt=joint.reworks)
            stops = {1, 2} if joint.state == "tacked" else {1, 2, 3}
            ticked = {tick.step.number for tick in _latest(run.pk) if tick.is_done}
            assert ticked >= stops

    @invariant()
    def reworks_are_counted_by_the_log(self) -> None:
        for joint in Joint.objects.all():
            moves = joint.moves.filter(state="rework", is_taken_back=False)
            assert moves.count() == joint.reworks

    @precondition(lambda self: self.now > MOMENT)
    @invariant()
    def the_latest_line_of_a_joint_is_the_state_it_is_in(self) -> None:
        for joint in Joint.objects.all():
            last = joint.moves.filter(is_taken_back=False).order_by("pk").last()
            assert joint.state == (last.state if last else "planned")

    def _is_painted(self) -> bool:
        self.paint.refresh_from_db()
        return bool(self.paint.state == words.TaskState.DONE)

    def _hold_passed(self) -> bool:
        verdict = hold_verdict(Task.objects.get(pk=self.hold.pk).signings.all())
        return verdict in (words.HoldVerdict.SIGNED, words.HoldVerdict.WAIVED)


def _states(joints: tuple[Joint, ...]) -> list[str]:
    keys = [joint.pk for joint in joints]
    return list(Joint.objects.filter(pk__in=keys).values_list("state", flat=True))


def _latest(run: int) -> list[PrepTick]:
    ticks = PrepTick.objects.filter(run=run, is_taken_back=False).order_by("at", "pk")
    return list({tick.step_id: tick for tick in ticks.select_related("step")}.values())


@pytest.mark.django_db
@pytest.mark.parametrize("ready", [2, 3, 4, 5])
def test_the_way_to_accepted_with_so_many_steps_done(ready: int) -> None:
    """Taken every time, so that a stop which is not asked for never passes by luck."""
    machine = AnyOrder()
    try:
        machine.weld_through(0, ready)
        machine.accept(0, True, "brushed")
        is_accepted = machine.joint(0).state == words.JointState.ACCEPTED
        assert is_accepted == (ready == 5)
        machine.nothing_is_accepted_past_an_open_stop()
        machine.nothing_is_welded_past_an_open_stop()
    finally:
        machine.teardown()


@pytest.mark.django_db
class TestAnyOrder(AnyOrder.TestCase):
    settings = settings(
        max_examples=15,
        stateful_step_count=25,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
