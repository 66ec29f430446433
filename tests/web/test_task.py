"""Tasks of a build stand by what is in their way, each with its reasons."""

from datetime import date, timedelta

import pytest
from freezegun import freeze_time

from fabshop import words
from tests.factories import (
    MOMENT,
    AfterFactory,
    BuildFactory,
    ComponentFactory,
    CoverFactory,
    EstimateFactory,
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    PieceFactory,
    PromiseFactory,
    SiteFactory,
    TaskFactory,
    WindowFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _at_the_moment():
    with freeze_time(MOMENT):
        yield


@pytest.fixture
def tuppence(shop, owner):
    WindowFactory(person=owner, on=MOMENT.date(), from_minute=0, to_minute=1320)
    return BuildFactory(name="Tuppence", slug="tuppence")


@pytest.fixture
def board(tuppence):
    """W21 wants P06, promised for the 10th, now the 18th."""
    order = OrderFactory(code="P06", title="Power board", sent_on=date(2027, 8, 24))
    line = OrderLineFactory(order=order, title="Board")
    for days_ago, eta in ((9, date(2027, 9, 10)), (2, date(2027, 9, 18))):
        PromiseFactory(order=order, eta_on=eta, at=MOMENT - timedelta(days=days_ago))
    task = TaskFactory(code="W21", title="Fit power board", build=tuppence)
    NeedFactory(task=task, line=line)
    return task


def test_what_can_be_done_stands_above_what_wants_parts(client, viewer, board):
    ready = TaskFactory(code="W34", title="Rework J07", build=board.build)
    EstimateFactory(task=ready, minutes=54)
    client.force_login(viewer)
    text = client.get("/builds/tuppence/tasks/").text
    assert "1 of 2 can be done now. 1 wants parts." in text
    assert text.index("Rework J07") < text.index("Fit power board")


def test_a_task_that_wants_parts_says_which_and_how_late(client, viewer, board):
    client.force_login(viewer)
    text = client.get("/builds/tuppence/tasks/").text
    assert "P06" in text
    assert "with them, Sat 18 Sep" in text
    assert "first promised Fri 10 Sep, 8 days late" in text
    assert "Free Sat 18 Sep 18:00" in text
    assert "wanted since" not in text, "the promised day has yet to come"


def test_a_task_after_another_and_one_shut_in_say_so(client, viewer, board):
    first = TaskFactory(code="W03", title="Wax", build=board.build)
    AfterFactory(task=TaskFactory(code="W04", build=board.build), before=first)
    deck = ComponentFactory(build=board.build, code="T20", off_minutes=4)
    pod = ComponentFactory(build=board.build, code="T18", off_minutes=12)
    CoverFactory(under=pod, cover=deck)
    inside = TaskFactory(code="W20", build=board.build)
    SiteFactory(task=inside, component=pod, kind=words.SiteKind.REACH)
    client.force_login(viewer)
    text = client.get("/builds/tuppence/tasks/").text
    assert 'id="after-another"' in text and "W03" in text
    assert 'id="shut-in"' in text and "T20" in text


def test_the_page_of_a_task_lists_its_reasons_with_links(client, viewer, board):
    client.force_login(viewer)
    text = client.get("/tasks/W21/").text
    assert 'href="/orders/P06/"' in text
    assert "Clears Sat 18 Sep 18:00." in text
    assert "Start" not in text


def test_start_and_stop_are_as_wide_as_the_page(client, helper, board):
    client.force_login(helper)
    text = client.get("/tasks/W21/").text
    assert "Start all the same" in text
    client.post("/tasks/W21/start/", {"then": "/tasks/W21/"})
    text = client.get("/tasks/W21/").text
    assert "Hal is on it since" in text
    assert '<button class="big">Stop</button>' in text


def test_a_finished_task_can_be_opened_again(client, helper, tuppence):
    task = TaskFactory(code="W01", build=tuppence, state="done", done_at=MOMENT)
    client.force_login(helper)
    assert "Open it again" in client.get("/tasks/W01/").text
    client.post("/tasks/W01/reopen/")
    task.refresh_from_db()
    assert task.state == words.TaskState.OPEN


def test_row_14_no_hours_is_no_division_by_nothing(client, viewer, shop):
    """Row 14: no bench hours left, the calendar empty."""
    TaskFactory(code="W01", build=BuildFactory(slug="gannet"))
    client.force_login(viewer)
    assert client.get("/builds/gannet/tasks/").status_code == 200
    assert client.get("/tasks/W01/").status_code == 200


def test_a_build_without_tasks_and_an_unknown_task(client, viewer, tuppence):
    client.force_login(viewer)
    assert "Nothing left to do." in client.get("/builds/tuppence/tasks/").text
    assert client.get("/tasks/W99/").status_code == 404


def test_the_list_takes_as_many_queries_for_many_tasks(
    client, viewer, board, django_assert_num_queries, django_assert_max_num_queries
):
    client.force_login(viewer)
    client.get("/builds/tuppence/tasks/")
    with django_assert_max_num_queries(60) as few:
        client.get("/builds/tuppence/tasks/")
    line = board.needs.get().line
    for number in range(20):
        task = TaskFactory(code=f"X{number}", build=board.build)
        NeedFactory(task=task, line=line)
    with django_assert_num_queries(len(few)):
        client.get("/builds/tuppence/tasks/")


@pytest.fixture
def cowl(tuppence):
    """W30 bonds the cowl over the dash, where W26 has still to paint."""
    build = tuppence
    cowl = ComponentFactory(build=build, code="T09", state="dry-fit", is_for_good=True)
    dash = ComponentFactory(build=build, code="T10")
    CoverFactory(under=dash, cover=cowl)
    bond = TaskFactory(code="W30", title="Bond cowl", build=build, is_for_good=True)
    SiteFactory(task=bond, component=cowl, kind=words.SiteKind.FITS)
    paint = TaskFactory(code="W26", title="Paint dash", build=build)
    SiteFactory(task=paint, component=dash, kind=words.SiteKind.REACH)
    return bond


def test_row_6_what_closes_off_for_good_lists_the_tasks_and_asks_why(
    client, owner, cowl
):
    """Row 6: a permanent step closes off what an open task still needs."""
    client.force_login(owner)
    answer = client.post("/tasks/W30/done/", {"then": "/tasks/W30/"})
    assert answer.status_code == 409
    assert "W30 closes off for good what is still needed by W26" in answer.text
    assert "Done all the same: why?" in answer.text
    client.post("/tasks/W30/done/", {"waive": "painted from below"})
    cowl.refresh_from_db()
    assert cowl.state == words.TaskState.DONE
    assert "painted from below" in client.get("/tasks/W30/").text


def test_row_6_a_helper_does_not_waive_it(client, helper, cowl):
    """Row 6: the reason is the owner's."""
    client.force_login(helper)
    assert client.post("/tasks/W30/done/", {"waive": "hurry"}).status_code == 403


def test_row_53_points_stand_beside_what_cannot_be_done(client, viewer, board):
    """Row 53: a goal whose chain is impossible says what it needs."""
    board.points = 6
    board.save()
    client.force_login(viewer)
    text = client.get("/tasks/W21/").text
    assert "6, a must" in text and "P06" in text


def test_where_only_the_hours_are_in_the_way_it_says_from_when(client, odile, demo):
    client.force_login(odile)
    with freeze_time(MOMENT + timedelta(hours=17)):
        page = client.get("/tasks/W34/").text
    assert "Only the hours are in its way: 1 h 10, from Sat 4 Sep 09:00." in page
    assert "Comes free" not in page


def test_a_need_for_a_piece_leads_to_it_and_says_when_too_little_is_left(page):
    task = TaskFactory(code="W45")
    PieceFactory(code="M08", length_um=193_000)
    NeedFactory(
        task=task, kind="rack", line=None, rack_code="M08", quantity_milli=300_000
    )
    text = page.get("/tasks/W45/").text
    assert '<a href="/pieces/M08/">M08</a> 193 mm left, 300 mm wanted' in text
    assert '<a href="/pieces/M08/">M08</a> (rack), 300 mm' in text
