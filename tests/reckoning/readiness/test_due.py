"""The last moments to begin, worked back from pack-out through hours and cures."""

from __future__ import annotations

import random

from fabshop.reckoning.readiness import Outlook
from fabshop.reckoning.readiness.due import latest_starts
from fabshop.reckoning.readiness.waits import waits_for
from tests.reckoning.facts_for import (
    NOW,
    at,
    build,
    evenings,
    shop,
    task,
)


def starts(facts, **said):
    return latest_starts(facts, waits_for(facts), **said)


def test_a_chain_is_worked_back_over_nights_and_cures():
    facts = shop(
        [task("A", minutes=30, cure=600), task("B", minutes=120, after="A")],
        builds=(build(pack_out=at(2, 19)),),
        windows=evenings(3),
    )
    # B: an hour on the last evening, one on the evening before, from 20:00.
    # A must have cured by then: it ends at 10:00, so by 21:00 the night before.
    assert starts(facts) == {"B": at(1, 20), "A": at(0, 20, 30)}


def test_the_first_follower_that_needs_it_counts():
    facts = shop(
        [task("A"), task("B", after="A"), task("C", minutes=150, after="A")],
        builds=(build(pack_out=at(0, 22)),),
    )
    assert starts(facts)["A"] == NOW  # C leaves half an hour, A wants a whole one
    assert starts(facts)["B"] == at(0, 20)


def test_a_plan_that_says_when_a_task_begins_counts():
    facts = shop([task("A"), task("B", after="A")])
    known = starts(facts, planned={"B": at(3, 19)})
    assert known == {"B": at(3, 19), "A": at(3, 18)}


def test_without_a_pack_out_there_is_no_last_moment():
    facts = shop([task("A")], builds=(build(pack_out=None),))
    assert starts(facts) == {"A": None}


def test_shared_tasks_end_by_the_first_pack_out_of_all():
    builds = (build(), build("carrier", pack_out=at(1, 20)))
    facts = shop([task("A", build="")], builds=builds)
    assert starts(facts)["A"] == at(1, 19)


def test_where_hours_are_short_the_last_moment_is_now():
    facts = shop([task("A")], windows=())
    assert starts(facts) == {"A": NOW}


def test_begun_by_its_last_moment_a_chain_alone_is_done_in_time():
    for seed in range(40):
        chance = random.Random(seed)
        chain = [
            task(
                f"n{n}",
                minutes=chance.randint(1, 200),
                cure=chance.choice((0, 700)),
                after=f"n{n - 1}" if n else "",
            )
            for n in range(chance.randint(1, 4))
        ]
        facts = shop(chain, builds=(build(pack_out=at(9, 19)),))
        begin = starts(facts)["n0"]
        assert begin is not None
        begun = shop(chain, builds=facts.builds, now=max(begin, NOW))
        end = Outlook(begun).likely.done_at[chain[-1].id]
        assert end is not None and end <= at(9, 19), seed
