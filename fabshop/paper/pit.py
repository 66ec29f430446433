"""The event repair card: the ten likeliest breakages of a build, for the pocket."""

from __future__ import annotations

from fabshop.clock import now
from fabshop.errors import NotFound
from fabshop.paper.sheet import Sheet, entries_so_far
from fabshop.reckoning.pit import likeliest
from fabshop.records.build import Build
from fabshop.snapshot import plan_clock, take
from fabshop.snapshot.packout import pit_cards


def repair_card(slug: str) -> Sheet:
    """For ten parts: what comes off first, the screws, the spare and its case."""
    build = Build.objects.live().filter(slug=slug).first()
    if build is None:
        raise NotFound(f"No live build is called {slug}.")
    moment = now()
    return Sheet(
        name="pit",
        title="Repair card",
        template="paper/pit/card.html",
        path=f"/pit/{slug}/",
        code=f"PIT {build.slug.upper()}",
        filename=f"{slug}-repair-card",
        subject=build.name,
        made_at=moment,
        offset_minutes=plan_clock(moment).offset_minutes,
        entries=entries_so_far(),
        paper="a6",
        context={"cards": likeliest(pit_cards(take(moment), slug)), "build": build},
    )
