"""Takes the whole shop, as far as live builds touch it, into frozen facts."""

from __future__ import annotations

from datetime import datetime

from fabshop.reckoning.facts import Facts
from fabshop.reckoning.planning import as_chosen
from fabshop.records.build import Build
from fabshop.records.log import LogEntry
from fabshop.records.shop import Shop
from fabshop.snapshot.build import build_facts, component_facts
from fabshop.snapshot.clock import plan_clock
from fabshop.snapshot.firm import firm_slips
from fabshop.snapshot.hours import calendar
from fabshop.snapshot.joint import open_joints
from fabshop.snapshot.order import live_orders, order_facts
from fabshop.snapshot.stock import needed_pieces
from fabshop.snapshot.task import (
    finished_tasks,
    live_tasks,
    needed_lines,
    task_facts,
)


def take(now: datetime) -> Facts:
    """The facts at `now`, as the shop goes on from what was chosen.

    A task whose Plan B was taken stands there as that, with what led only to its final
    way given up; see `take_whole`.
    """
    return as_chosen(take_whole(now))


def take_whole(now: datetime) -> Facts:
    """The facts at `now` (aware), in a fixed number of queries whatever the size.

    Each task stands there with all its ways, whichever was chosen.

    Read are: the live builds with their components and all their tasks, the shared
    tasks that are open, the orders under way, of those builds, or needed by those
    tasks, the hours and days to come, and how the latest finished tasks of each
    family went. Closed builds and what was booked in for them are not read.
    """
    shop = Shop.objects.first()
    clock = plan_clock(now, shop)
    at = clock.to_plan(now)
    builds = list(Build.objects.live())
    tasks = live_tasks(builds, now)
    orders = live_orders(builds, needed_lines(tasks))
    about_builds = build_facts(builds, clock)
    hours = calendar(about_builds, clock, at)
    about_tasks = task_facts(tasks, builds, clock)
    settings = shop or Shop()
    return Facts(
        now=at,
        utc_offset_minutes=clock.offset_minutes,
        builds=about_builds,
        components=component_facts(builds),
        tasks=about_tasks,
        orders=order_facts(orders, clock),
        pieces=needed_pieces(about_tasks),
        joints=open_joints(builds),
        windows=hours.windows,
        past_windows=hours.past_windows,
        helper_windows=hours.helper_windows,
        wall_shifts=clock.wall_shifts(at.date()),
        days=hours.days,
        finished=finished_tasks(),
        slips=firm_slips(orders, clock, at.date()),
        delivery_minute=settings.delivery_minute,
        setup_minutes=settings.teardown_setup_minutes,
        factor_bites_after=settings.factor_bites_after,
        entries=LogEntry.objects.count(),
    )
