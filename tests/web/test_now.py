"""What now: the line that matters, what can be started, what is blocked since when."""

import gzip
from datetime import date, timedelta
from pathlib import Path

import django_htmx
import pytest
from django.contrib.staticfiles import finders

from fabshop import words
from tests.factories import (
    MOMENT,
    AfterFactory,
    BuildFactory,
    EstimateFactory,
    LogEntryFactory,
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    PlanFactory,
    PlanStepFactory,
    PromiseFactory,
    SendingFactory,
    StepTickFactory,
    TaskFactory,
    TimerFactory,
    WindowFactory,
)

pytestmark = pytest.mark.django_db
MOST_BYTES = 60_000
# Session, person, shop, timer, plans, the plan, runs, others; the rest is the snapshot.
QUERIES = 40


@pytest.fixture
def build(shop):
    return BuildFactory(name="Tuppence", pack_out_at=MOMENT + timedelta(days=19))


@pytest.fixture
def hours(owner):
    for days in range(1, 19):
        on = MOMENT.date() + timedelta(days=days)
        WindowFactory(person=owner, on=on, from_minute=9 * 60, to_minute=17 * 60)


def task_of(build, code, minutes, **fields):
    task = TaskFactory(code=code, build=build, **fields)
    EstimateFactory(task=task, minutes=minutes)
    return task


def owed_line(code, build, **fields):
    order = OrderFactory(code=code, build=build, **fields)
    line = OrderLineFactory(order=order, number=1, title=f"Thing {code}")
    return order, line


def test_three_tasks_are_offered_with_minutes_and_the_rest_is_one_tap_away(
    page, build, hours
):
    for number in range(5):
        task_of(build, f"W0{number}", 20 + number)
    text = page.get("/").text
    assert text.count('class="start"') == 3
    assert "2 more can be started" in text
    assert page.get("/?all").text.count('class="start"') == 5


def test_the_keys_trim_the_list_to_the_time_there_is(page, build, hours):
    task_of(build, "W12", 20, title="Send duct")
    task_of(build, "W41", 170, title="Cope hoop")
    text = page.get("/?minutes=40").text
    assert "Send duct" in text
    assert "Cope hoop" not in text
    assert 'href="/" aria-current="true"' in text, "the same key again shows all"
    assert "Cope hoop" in page.get("/?minutes=rubbish").text


def test_htmx_gets_the_list_alone_and_history_the_whole_page(page, build):
    fragment = page.get("/?minutes=20", headers={"HX-Request": "true"})
    assert fragment.text.startswith('<div id="starts">')
    assert "HX-Request" in fragment.headers["Vary"]
    again = page.get(
        "/", headers={"HX-Request": "true", "HX-History-Restore-Request": "true"}
    )
    assert "<!doctype html>" in again.text


def test_nothing_short_enough_is_said(page, build, hours):
    task_of(build, "W41", 170)
    text = page.get("/?minutes=20").text
    assert "Nothing that takes 20 min or less can be started." in text


def test_a_file_to_send_tonight_is_the_first_line(page, build, hours):
    order, line = owed_line(
        "P08",
        build,
        move=words.Move.ME,
        sent_on=None,
        title="Driver figure",
        lead_likely_days=10,
        lead_late_days=18,
    )
    NeedFactory(task=task_of(build, "W29", 20), line=line)
    text = page.get("/").text
    lead = text.split('class="lead">')[1].split("</p>")[0]
    assert "Send tonight: P08 Driver figure" in lead
    assert 'href="/orders/P08/sent/"' in lead


def test_what_is_blocked_names_the_line_the_tasks_and_since_when(page, build, hours):
    order, line = owed_line(
        "P05", build, move=words.Move.FIRM, sent_on=date(2027, 8, 24)
    )
    SendingFactory(order=order, sent_on=date(2027, 8, 24))
    for number, eta in enumerate((date(2027, 9, 7), date(2027, 9, 16))):
        PromiseFactory(order=order, eta_on=eta, at=MOMENT - timedelta(days=9 - number))
    NeedFactory(task=task_of(build, "W20", 48, title="Fit drive pod"), line=line)
    for path in ("/", "/blocked/"):
        text = page.get(path).text
        assert "P05/1" in text
        assert ">slipped</span>" in text
        assert "9 days late" in text
        assert "Fit drive pod, first promised for Tue 7 Sep." in " ".join(text.split())
    assert "1 task wants parts" in page.get("/blocked/").text


def test_a_shop_without_anything_says_so_in_sentences(page, shop):
    text = page.get("/").text
    assert "Nothing is entered yet." in text
    assert 'href="/intake/"' in text
    assert "Nothing can be started now." in text
    assert "Nothing waits for a parcel." in text


def test_a_quiet_day_says_so(page, build):
    task_of(build, "W12", 20)
    assert "Nothing is to be sent and nothing comes today." in page.get("/").text


def test_who_else_is_at_work_is_said(page, build, helper):
    task = task_of(build, "W12", 20, title="Send duct", state="under-way")
    start = LogEntryFactory(person=helper, task=task, kind="start", at=MOMENT)
    TimerFactory(person=helper, start=start)
    assert "Hal is on W12 Send duct since 06:45." in page.get("/").text


def test_a_viewer_sees_it_all_but_no_start_key(viewers_page, build, hours):
    task_of(build, "W12", 20)
    text = viewers_page.get("/").text
    assert "W12" in text
    assert ">Start<" not in text
    assert 'href="/log/note/"' not in text


def test_the_page_asks_the_database_the_same_however_much_there_is(
    page, build, hours, django_assert_num_queries
):
    def some(number):
        _, line = owed_line(f"P{number}", build)
        first = task_of(build, f"W{number}", 20, is_hold=number % 2 == 0)
        second = task_of(build, f"V{number}", 20)
        AfterFactory(task=second, before=first)
        NeedFactory(task=second, line=line)

    some(1)
    some(2)
    with django_assert_num_queries(QUERIES):
        page.get("/")
    for number in range(3, 15):
        some(number)
    with django_assert_num_queries(QUERIES):
        page.get("/")


def test_the_page_with_its_style_and_scripts_is_small_on_the_wire(page, build, hours):
    for number in range(40):
        _, line = owed_line(f"P{number}", build)
        task_of(build, f"W{number}", 20)
        NeedFactory(task=task_of(build, f"V{number}", 20), line=line)
    htmx = Path(django_htmx.__file__).parent / "static/django_htmx/htmx-2.min.js"
    own = [Path(finders.find(f"web/shop.{kind}")) for kind in ("css", "js")]
    sent = [page.get("/").content, *(file.read_bytes() for file in (htmx, *own))]
    assert sum(len(gzip.compress(part)) for part in sent) < MOST_BYTES


def accepted(build, owner, ticked=False):
    plan = PlanFactory(
        build=build,
        state="accepted",
        edition="A",
        utc_offset_minutes=60,
        answer={
            "sessions": [
                {"start": "2027-09-04T10:00", "latest_start": "2027-09-04T11:30"}
            ]
        },
    )
    task = task_of(build, "W20", 50)
    step = PlanStepFactory(
        plan=plan, number=1, does="task", task=task, component=None, minutes=50
    )
    if ticked:
        StepTickFactory(step=step)
    return plan


def test_an_accepted_teardown_says_start_by_and_what_is_in_hand(
    page, build, hours, owner
):
    plan = accepted(build, owner)
    text = page.get("/").text
    lead = text.split('class="lead">')[1].split("</p>")[0]
    assert "start the teardown by Sat 4 Sep 11:30, 1 h 30 in hand" in lead
    assert f'href="/plans/{plan.pk}/"' in lead


def test_start_by_stays_in_sight_below_what_presses_more(page, build, hours, owner):
    plan = accepted(build, owner)
    plan.answer["sessions"][0]["latest_start"] = "2027-09-10T11:30"
    plan.save()
    order, _ = owed_line(
        "P16", build, sent_on=date(2027, 8, 20), move=words.Move.CARRIER
    )
    PromiseFactory(order=order, eta_on=date(2027, 9, 1))
    text = page.get("/").text.split("<h2>")[0]
    lead = text.split('class="lead">')[1].split("</p>")[0]
    assert "Overdue: P16" in lead
    assert 'href="/orders/P16/goods-in/"' in lead
    assert "start the teardown by Fri 10 Sep 11:30" in text
    assert "<details>" not in text


def test_a_teardown_that_has_begun_is_not_called_for_again(page, build, hours, owner):
    accepted(build, owner, ticked=True)
    assert "start the teardown by" not in page.get("/").text


def test_a_last_start_that_has_passed_is_said_as_too_late(
    page, build, hours, owner, frozen
):
    accepted(build, owner)
    frozen.move_to(MOMENT.replace(day=4, hour=12, minute=0))  # 13:00 in the shop
    assert "1 h 30 too late" in page.get("/").text
