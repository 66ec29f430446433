"""The demo shop's cut parts: two lefts, the right corrected, a spare that is late."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop import words
from fabshop.actions.drawing import hands_of, held_of, looks_of
from fabshop.actions.drawing.look import asked_before_sending
from fabshop.reckoning.arrivals import arrivals
from fabshop.reckoning.firm import firm_record
from fabshop.reckoning.landing import lands_after_pack_out
from fabshop.records.drawing import Drawing
from fabshop.records.order import Order, OrderLine
from fabshop.records.packout import Spare
from fabshop.records.shop import Shop
from fabshop.records.task import Need
from fabshop.snapshot import take

pytestmark = pytest.mark.django_db


def test_the_drawings_of_p02_are_two_lefts_and_it_is_said(demo: Shop) -> None:
    left = Drawing.objects.get(line__order__code="P02", line__number=1)
    other, how = hands_of(left) or (None, None)
    assert other is not None and other.line.number == 2
    assert how is words.Mirror.SAME
    order = Order.objects.get(code="P02")
    assert asked_before_sending(order) == [
        "The drawings of left and right are the same: two lefts would come.",
        "The drawings of left and right are the same: two rights would come.",
    ]


def test_p03_is_the_mirror_image_at_last_and_not_sent(demo: Shop) -> None:
    order = Order.objects.get(code="P03")
    (look,) = looks_of(order)
    assert look.drawing.revision == "C"
    assert look.held is None
    assert look.doubts == ()
    assert look.hands.startswith("Left and right are mirror images of each other.")
    assert "P02/1" in look.hands
    assert order.sent_on is None


def test_nib_and_burr_hold_revision_b_of_the_ducts(demo: Shop) -> None:
    held = held_of(Order.objects.get(code="P02"))
    assert {one.revision for one in held.values()} == {"B"}


def test_the_belly_pan_weighs_what_the_scale_says(demo: Shop) -> None:
    (look,) = looks_of(Order.objects.get(code="P01"))
    # 118 g weighed; the density of 5754 is known to 1 %.
    assert look.mass_mg == pytest.approx(118_000, rel=0.01)
    assert look.doubts == ()


def test_what_was_measured_of_it_is_judged_and_decided(demo: Shop) -> None:
    checks = OrderLine.objects.get(order__code="P01").checks.order_by("at")
    told = [(c.verdict, c.upper_um, c.decisions.get().how) for c in checks]
    # ISO 2768-1 m for 120 to 400 mm; ISO 9013 class 1 for 125 to 315 mm at 2 mm.
    assert told == [("within", 500, "accepted"), ("too-small", 250, "live-with-it")]


def test_no_firm_has_three_finished_orders_so_all_late_days_are_as_typed(
    demo: Shop, demo_now: datetime
) -> None:
    facts = take(demo_now)
    assert {slip.supplier for slip in facts.slips} >= {"Drover Fasteners"}
    firms = {order.supplier for order in facts.orders}
    assert [firm for firm in firms if firm_record(facts, firm)] == []
    said = {one.late_basis for one in arrivals(facts).values()}
    assert said == {"their own latest", "by the late lead as typed"}


def test_p25_may_land_after_pack_out_and_is_no_spare_for_the_event(
    demo: Shop, demo_now: datetime
) -> None:
    facts = take(demo_now)
    landing = lands_after_pack_out(facts, facts.order_by_id["P25"])
    assert landing is not None
    assert not landing.likely
    assert "It may land after pack-out" in landing.said
    assert "Sat 25 Sep" in landing.said
    assert not Need.objects.filter(line__order__code="P25").exists()
    assert not Spare.objects.filter(title__icontains="P25").exists()
    late = [o.id for o in facts.orders if lands_after_pack_out(facts, o)]
    assert late == ["P25"]
