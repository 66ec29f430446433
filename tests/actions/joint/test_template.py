"""The shop's own checklists: each change is the next version."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from fabshop.actions.joint import change_template, set_colour_table, template_of
from fabshop.actions.joint.template import set_prep_hours, template_seen
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.joint import ColourTable, PrepTemplate
from fabshop.records.shop import Person, Shop
from fabshop.reference.prep import prep_rows
from fabshop.words import Metal


def test_the_first_version_is_the_references_own(owner: Person, now: datetime) -> None:
    template = template_of("titanium", now)
    assert (template.version, template.person, template.wants_colour) == (1, None, True)
    rows = prep_rows()[Metal.TITANIUM]
    assert [step.text for step in template.steps.all()] == [row.text for row in rows]
    assert template_of("titanium", now) == template
    assert not template_of("chromoly", now).wants_colour


def test_looking_at_a_checklist_keeps_nothing_and_shows_the_same(
    owner: Person, now: datetime
) -> None:
    for metal in Metal:
        seen, steps = template_seen(metal, now)
        assert not PrepTemplate.objects.filter(metal=metal).exists()
        assert (seen.version, len(steps)) == (1, len(prep_rows()[metal]))
        kept = template_of(metal, now)
        assert template_seen(metal, now) == (kept, list(kept.steps.all()))
        assert [step.text for step in steps] == [s.text for s in kept.steps.all()]


def test_a_change_makes_the_next_version_and_alters_none(
    owner: Person, helper: Person, now: datetime
) -> None:
    steps = [{"text": "Degrease", "is_stop": True, "source": "our notebook"}]
    said: dict[str, Any] = {"metal": "titanium", "steps": steps, "now": now}
    with pytest.raises(NotAllowed):
        change_template(by=helper, **said)
    second = change_template(by=owner, seen_version=1, wants_colour=True, **said)
    assert second.version == 2
    assert change_template(by=owner, wants_colour=True, **said) == second
    assert PrepTemplate.objects.get(version=1).steps.count() > 1
    with pytest.raises(Clash, match="Version 2 of this checklist was made meanwhile"):
        change_template(by=owner, seen_version=1, **said)


@pytest.mark.parametrize(
    ("steps", "says"),
    [
        ([], "at least one step"),
        ([{"text": "x"}] * 41, "at most 40"),
        ([{"text": ""}], "Step 1: nothing is written"),
        ([{"text": "x", "stage": "later"}], "Step 1: 'later' is not a valid"),
        ([{"text": "x", "minutes": 4}], "only a start mark has minutes"),
        ([{"text": "x", "caution": "dragons"}], "no caution “dragons”"),
        ([{"text": "x", "kind": "minutes", "minutes": -1}], "less than nothing"),
    ],
)
def test_a_step_that_cannot_be_is_refused(
    owner: Person, now: datetime, steps: Any, says: str
) -> None:
    with pytest.raises(BadInput, match=says):
        change_template(by=owner, metal="titanium", steps=steps, now=now)
    assert not PrepTemplate.objects.filter(version=2).exists()


def test_a_step_without_a_source_is_the_shops_own_practice(
    owner: Person, now: datetime
) -> None:
    template = change_template(
        by=owner, metal="titanium", steps=[{"text": "Count to ten"}], now=now
    )
    assert template.steps.get().source == "own practice"


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"verdicts": {}}, "at least one colour"),
        ({"verdicts": {"sky": "accept"}}, "“sky: accept” is no verdict"),
        ({"verdicts": {"blue": "maybe"}}, "“blue: maybe” is no verdict"),
        ({"source": ""}, "Where it is from: nothing"),
    ],
)
def test_a_colour_table_says_its_source_and_judges_colours(
    owner: Person, now: datetime, changes: Any, says: str
) -> None:
    table = {"name": "Ours", "source": "board", "verdicts": {"blue": "accept"}}
    with pytest.raises(BadInput, match=says):
        set_colour_table(by=owner, metal="stainless", now=now, **(table | changes))
    assert not ColourTable.objects.exists()


def test_hours_that_clean_counts_are_within_a_week(
    owner: Person, now: datetime
) -> None:
    with pytest.raises(BadInput):
        set_prep_hours(by=owner, clean_minutes=8 * 24 * 60, now=now)
    set_prep_hours(by=owner, clean_minutes=120, now=now)
    assert Shop.objects.get().clean_minutes == 120
