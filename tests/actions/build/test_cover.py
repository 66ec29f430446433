from datetime import datetime

import pytest

from fabshop.actions.build import retire_component, set_covers
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.build import Build, Component, Cover
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from tests.factories import BuildFactory, ComponentFactory


@pytest.fixture
def parts(db: None) -> dict[str, Component]:
    build = BuildFactory(name="Tuppence")
    return {
        code: ComponentFactory(build=build, code=code, name=f"Part {code}")
        for code in ("T08", "T09", "T10", "T11", "T12", "T13")
    }


def routes_of(component: Component) -> list[tuple[int, str]]:
    return sorted(component.covers.values_list("route", "cover__code"))


def test_a_part_lies_under_others_by_code_or_by_themselves(
    owner: Person, parts: dict[str, Component], now: datetime
) -> None:
    set_covers(
        by=owner, component=parts["T10"], routes=[["T09", parts["T08"]]], now=now
    )
    assert routes_of(parts["T10"]) == [(1, "T08"), (1, "T09")]
    assert LogEntry.objects.get().text == "T10 lies under T08 and T09."


def test_one_of_several_routes_is_enough(
    owner: Person, parts: dict[str, Component], now: datetime
) -> None:
    set_covers(
        by=owner,
        component=parts["T10"],
        routes=[["T08"], [], ["T11", "T12", "T11"], ["T08"]],
        now=now,
    )
    # A blank route is none, one said twice is one, and so is a part said twice.
    assert routes_of(parts["T10"]) == [(1, "T08"), (2, "T11"), (2, "T12")]
    assert LogEntry.objects.get().text == "T10 lies under T08, or T11 and T12."


def test_no_route_means_that_nothing_lies_over_it(
    owner: Person, parts: dict[str, Component], now: datetime
) -> None:
    part = parts["T10"]
    set_covers(by=owner, component=part, routes=[["T08"]], now=now)
    set_covers(by=owner, component=part, routes=[], now=now)
    assert routes_of(part) == []
    assert LogEntry.objects.first().text == "T10 lies under nothing."


def test_saying_what_is_so_already_changes_nothing(
    owner: Person, parts: dict[str, Component], now: datetime
) -> None:
    for _ in range(2):
        part = set_covers(by=owner, component=parts["T10"], routes=[["T08"]], now=now)
    assert LogEntry.objects.count() == 1
    assert part.version == 2


def test_row_1_a_loop_is_refused_and_told_in_words(
    owner: Person, parts: dict[str, Component], now: datetime
) -> None:
    set_covers(by=owner, component=parts["T10"], routes=[["T09"]], now=now)
    with pytest.raises(
        Clash, match="a loop: T09 lies under T10, T10 lies under T09."
    ) as refused:
        set_covers(by=owner, component=parts["T09"], routes=[["T08", "T10"]], now=now)
    assert (refused.value.status, refused.value.field) == (409, "routes")
    assert routes_of(parts["T09"]) == []


def test_the_shortest_loop_is_told_and_it_may_run_through_any_route(
    owner: Person, parts: dict[str, Component], now: datetime
) -> None:
    for code, routes in {
        "T10": [["T08"], ["T11"]],
        "T11": [["T12"]],
        "T12": [["T13"]],
        "T08": [["T12"]],
    }.items():
        set_covers(by=owner, component=parts[code], routes=routes, now=now)
    with pytest.raises(Clash) as refused:
        set_covers(by=owner, component=parts["T13"], routes=[["T10"]], now=now)
    assert refused.value.message == (
        "That would be a loop: T13 lies under T10, T10 lies under T08, "
        "T08 lies under T12, T12 lies under T13."
    )


def test_row_2_a_part_does_not_lie_under_itself(
    owner: Person, parts: dict[str, Component], now: datetime
) -> None:
    with pytest.raises(BadInput, match="A part cannot lie under itself"):
        set_covers(by=owner, component=parts["T10"], routes=[["T10"]], now=now)


def test_row_3_a_part_lies_under_parts_of_its_own_build(
    owner: Person, parts: dict[str, Component], now: datetime
) -> None:
    ComponentFactory(code="G05", name="Beacon", build=BuildFactory(name="Gannet"))
    with pytest.raises(
        BadInput,
        match="G05 Beacon is on Gannet and T10 on Tuppence.*Is it a shared spare",
    ):
        set_covers(by=owner, component=parts["T10"], routes=[["G05"]], now=now)


def test_row_5_the_second_of_two_who_close_a_loop_at_once_is_refused(
    owner: Person, parts: dict[str, Component], now: datetime
) -> None:
    # Both have read the build when neither cover was there.
    for_one = Component.objects.get(code="T09")
    for_other = Component.objects.get(code="T10")
    set_covers(by=owner, component=for_one, routes=[["T10"]], now=now, version=1)
    with pytest.raises(Clash, match="T10 lies under T09, T09 lies under T10") as late:
        set_covers(by=owner, component=for_other, routes=[["T09"]], now=now, version=1)
    assert late.value.status == 409


def test_a_version_that_has_passed_shows_both_versions(
    owner: Person, parts: dict[str, Component], now: datetime
) -> None:
    part = parts["T10"]
    set_covers(by=owner, component=part, routes=[["T08"]], now=now, version=1)
    with pytest.raises(
        Clash, match="It lies under: you wrote T09, by now it reads T08. Save again"
    ):
        set_covers(by=owner, component=part, routes=[["T09"]], now=now, version=1)
    set_covers(by=owner, component=part, routes=[["T09"]], now=now, version=2)
    assert routes_of(part) == [(1, "T09")]


def test_what_is_not_there_lies_over_nothing(
    owner: Person, parts: dict[str, Component], now: datetime
) -> None:
    with pytest.raises(BadInput, match="there is no T99 here") as refused:
        set_covers(by=owner, component=parts["T10"], routes=[["T99"]], now=now)
    assert refused.value.field == "routes"
    retire_component(by=owner, component=parts["T09"], now=now)
    with pytest.raises(BadInput, match="T09 Part T09 is retired"):
        set_covers(by=owner, component=parts["T10"], routes=[["T09"]], now=now)


def test_too_many_routes_are_refused(
    owner: Person, parts: dict[str, Component], now: datetime
) -> None:
    with pytest.raises(BadInput, match="51 routes, but at most 50"):
        set_covers(by=owner, component=parts["T10"], routes=[["T08"]] * 51, now=now)


def test_a_helper_does_not_say_what_lies_under_what(
    helper: Person, parts: dict[str, Component], now: datetime
) -> None:
    with pytest.raises(NotAllowed):
        set_covers(by=helper, component=parts["T10"], routes=[["T08"]], now=now)
    assert not Cover.objects.exists()


def test_the_loop_of_the_demo_is_told_too(
    odile: Person, demo: None, now: datetime
) -> None:
    assert Build.objects.filter(slug="tuppence").exists()
    with pytest.raises(Clash, match="T08 lies under T10, T10 lies under T08"):
        set_covers(
            by=odile,
            component=Component.objects.get(code="T08"),
            routes=[["T10"]],
            now=now,
        )
