from datetime import UTC, date, datetime
from typing import Any

import pytest

from fabshop import words
from fabshop.actions.build import (
    add_build,
    change_build,
    close_build,
    reopen_build,
)
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.build import Build
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from tests.factories import (
    BuildFactory,
    LogEntryFactory,
    PersonFactory,
    TaskFactory,
    TimerFactory,
)


def test_a_build_begins(owner: Person, now: datetime) -> None:
    noon = datetime(2027, 9, 22, 11, 0, tzinfo=UTC)
    build = add_build(
        by=owner,
        slug="tuppence",
        letter="T",
        name="Tuppence",
        class_name="Solo",
        event_on=date(2027, 9, 24),
        pack_out_at=noon,
        now=now,
    )
    build.refresh_from_db()
    assert (build.state, build.pack_out_at) == (words.BuildState.LIVE, noon)
    entry = LogEntry.objects.get()
    assert (entry.build, entry.text) == (build, "New build: Tuppence.")


def test_a_double_tap_begins_one(owner: Person, now: datetime) -> None:
    for _ in range(2):
        add_build(
            by=owner, slug="gannet", letter="G", name="Gannet", now=now, client_id="a"
        )
    assert Build.objects.count() == 1


@pytest.mark.parametrize(
    ("fields", "kind", "field"),
    [
        ({"slug": "TUPPENCE"}, Clash, "slug"),
        ({"letter": "t"}, Clash, "letter"),
        ({"slug": "two words"}, BadInput, "slug"),
        ({"letter": ""}, BadInput, "letter"),
        ({"letter": "TOOLONG"}, BadInput, "letter"),
        ({"letter": "T-"}, BadInput, "letter"),
        ({"name": "\x00"}, BadInput, "name"),
        ({"event_name": "x" * 121}, BadInput, "event_name"),
        ({"pack_out_at": datetime(2027, 9, 22)}, BadInput, "pack_out_at"),
    ],
)
def test_what_cannot_begin_is_refused_by_name(
    owner: Person,
    now: datetime,
    fields: dict[str, Any],
    kind: type[Exception],
    field: str,
) -> None:
    BuildFactory(slug="tuppence", letter="T")
    given = {"slug": "gannet", "letter": "G", "name": "Gannet"} | fields
    with pytest.raises(kind) as refused:
        add_build(by=owner, now=now, **given)
    assert refused.value.field == field
    assert Build.objects.count() == 1


def test_row_18_an_event_may_move_even_into_the_past(
    owner: Person, now: datetime
) -> None:
    build = BuildFactory()
    changed = change_build(by=owner, build=build, event_on=date(2020, 1, 1), now=now)
    assert changed.event_on == date(2020, 1, 1)
    assert LogEntry.objects.get().text == "event on 2020-01-01."
    change_build(by=owner, build=build, event_on=date(2020, 1, 1), now=now)
    assert LogEntry.objects.count() == 1


def test_a_build_has_only_what_it_has(owner: Person, now: datetime) -> None:
    with pytest.raises(BadInput, match="A build has no “letter”"):
        change_build(by=owner, build=BuildFactory(), letter="Q", now=now)


def test_a_closed_build_says_what_was_left_and_is_changed_no_more(
    owner: Person, now: datetime
) -> None:
    build = BuildFactory(name="Sparrow")
    TaskFactory.create_batch(2, build=build)
    TaskFactory(build=build, state=words.TaskState.DONE)
    close_build(by=owner, build=build, now=now)
    close_build(by=owner, build=build, now=now)
    assert LogEntry.objects.get().text == "Closed. 2 tasks left undone."
    with pytest.raises(Clash, match="Sparrow is closed"):
        change_build(by=owner, build=build, name="Wren", now=now)


def test_a_build_on_which_somebody_works_is_not_closed(
    owner: Person, now: datetime
) -> None:
    task = TaskFactory(code="W7", title="Fit nose")
    hal = PersonFactory(name="Hal")
    TimerFactory(person=hal, start=LogEntryFactory(person=hal, task=task))
    with pytest.raises(Clash, match="Hal is still at work on W7 Fit nose"):
        close_build(by=owner, build=task.build, now=now)


def test_a_build_closed_by_mistake_is_taken_up_again(
    owner: Person, now: datetime
) -> None:
    build = BuildFactory(state=words.BuildState.CLOSED)
    assert reopen_build(by=owner, build=build, now=now).state == words.BuildState.LIVE
    reopen_build(by=owner, build=build, now=now)
    assert LogEntry.objects.count() == 1


def test_a_helper_begins_and_closes_nothing(helper: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        add_build(by=helper, slug="a", letter="A", name="A", now=now)
    with pytest.raises(NotAllowed):
        close_build(by=helper, build=BuildFactory(), now=now)
