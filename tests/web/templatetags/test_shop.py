"""The shop's own way of writing: stamps, days, minutes, quantities, fields."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest
from django.http import QueryDict
from django.template import Context, Template
from django.utils import timezone
from freezegun import freeze_time

from fabshop import words
from fabshop.errors import BadInput, FieldError, NeedsAnswer
from fabshop.reckoning.readiness import Reason
from fabshop.records.build import Build
from fabshop.records.log import LogEntry
from fabshop.records.order import Order
from fabshop.web.templatetags import shop


@pytest.fixture(autouse=True)
def september():
    with (
        freeze_time("2027-09-03T05:45:00Z"),
        timezone.override(ZoneInfo("Europe/London")),
    ):
        yield


def drawn(text, **context):
    return Template("{% load shop %}" + text).render(Context(context))


@pytest.mark.parametrize(
    "word", [w for kind in (words.Why, words.OrderStand) for w in kind]
)
def test_a_stamp_is_the_word_with_one_of_four_edges(word):
    drawn_word = shop.stamp(word)
    assert f">{word.label}</span>" in drawn_word
    edge = drawn_word.split("stamp--")[1].split('"')[0]
    assert edge in ("solid", "dashed", "double", "hatched")


def test_a_stamp_escapes_what_was_typed():
    assert "&lt;b&gt;" in shop.stamp("<b>")


def test_days_and_moments_carry_their_weekday_in_the_shops_zone():
    at = datetime(2027, 9, 18, 23, 30, tzinfo=UTC)
    assert shop.moment(at) == "Sun 19 Sep 00:30"
    assert shop.day(date(2027, 9, 3)) == "Fri 3 Sep"
    assert shop.day(date(2028, 1, 4)) == "Tue 4 Jan 2028"
    assert shop.day(None) == shop.moment(None) == ""


def test_a_moment_of_the_plans_clock_keeps_this_moments_offset_over_a_clock_change():
    # On 31 October London goes back an hour: 10:00 on the plan's clock is 09:00 there.
    assert shop.moment(datetime(2027, 11, 1, 10, 0)) == "Mon 1 Nov 09:00"
    assert shop.moment(datetime(2027, 9, 18, 18, 0)) == "Sat 18 Sep 18:00"


def test_a_part_is_wanted_since_a_day_that_has_come_not_since_one_to_come():
    assert shop.wanted(date(2027, 9, 3)) == "wanted since Fri 3 Sep"
    assert shop.wanted(date(2027, 9, 7)) == "first promised for Tue 7 Sep"
    assert shop.wanted(None) == ""


def test_what_is_in_the_way_leads_to_each_thing_it_names_once():
    reason = Reason(
        words.Why.SHUT_IN,
        "T08 and T1 over T13 <b>, then T08",
        components=("T08", "T1", "T20"),
        lines=("P05/2",),
    )
    text = shop.linked(reason)
    assert text.count('href="/components/T08/"') == 1
    assert '<a href="/components/T1/">T1</a> over T13 &lt;b&gt;' in text
    assert text.endswith(
        '<a href="/orders/P05/">P05</a> <a href="/components/T20/">T20</a>'
    )


def test_a_line_of_the_log_does_not_say_twice_what_it_is_about():
    order = Order(code="P14", title="Screws")
    assert shop.about(LogEntry(order=order, text="P14/1 Screws: 15 refunded")) is None
    assert shop.about(LogEntry(order=order, text="see P140")) == ("P14", "Screws")
    assert shop.about(LogEntry(build=Build(name="Gannet"))) == ("", "Gannet")
    assert shop.about(LogEntry(text="swept")) is None


def test_minutes_and_quantities_read_as_one_says_them():
    assert shop.minutes(70) == "1 h 10"
    assert shop.minutes(None) == "minutes unknown"
    assert shop.milli(400, "m2") == "0.4 m²"
    assert shop.milli(14000, "pc") == "14"
    assert shop.clock_time(545) == "09:05"


def test_a_field_shows_its_own_error_and_what_was_typed():
    error = BadInput("Minutes: “x” is not a time.", field="minutes")
    text = drawn(
        '{% refusal "minutes" %}{% field "minutes" "Minutes" value=40 %}',
        error=error,
        typed=QueryDict("minutes=x<"),
    )
    assert text.count("is not a time") == 1
    assert 'aria-invalid="true"' in text
    assert 'aria-describedby="minutes-said"' in text
    assert 'value="x&lt;"' in text


def test_two_errors_of_which_one_has_no_field_on_the_page_are_both_said():
    error = BadInput(
        "Both are wrong.",
        errors=(FieldError("a", "A is wrong."), FieldError("b", "B is wrong.")),
    )
    text = drawn('{% refusal "a" %}{% field "a" "A" %}', error=error)
    assert "Both are wrong." in text and "A is wrong." in text


def test_a_question_gets_a_yes_key():
    text = drawn("{% refusal %}", error=NeedsAnswer("Still on it?"))
    assert 'name="confirm" value="yes"' in text
    assert 'name="confirm"' not in drawn("{% refusal %}", error=BadInput("No."))


def test_every_form_carries_an_id_of_its_own():
    one, other = drawn("{% once %}"), drawn("{% once %}")
    assert 'name="client_id"' in one
    assert one != other


def test_keys_are_radio_buttons_with_a_legend():
    text = drawn(
        '{% field "role" "As what" kind="keys" options=roles value="helper" %}',
        roles=words.Role.choices(),
    )
    assert "<legend>As what</legend>" in text
    assert 'value="helper" checked' in text


def test_lengths_and_sizes_are_shown_in_millimetres():
    assert shop.mm(6350) == "6.35 mm"
    assert shop.mm(300_000, 200_000) == "300 × 200 mm"
    assert shop.mm(None) == ""
    assert shop.grams(98_370) == "98.4 g"
