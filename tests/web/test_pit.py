"""The pit: one page a build says what comes off first, and logs what broke."""

from __future__ import annotations

import pytest
from django.test import Client

from fabshop.records.log import LogEntry
from fabshop.records.shop import Person

pytestmark = pytest.mark.django_db


def test_every_part_of_the_build_is_on_the_one_page(
    client: Client, odile: Person
) -> None:
    client.force_login(odile)
    told = client.get("/pit/tuppence/").text
    assert told.count('<details class="part"') == 34
    assert "Main switch off" in told
    arm = told[told.index('id="T25"') :].partition("</details>")[0]
    assert "29 min off and on again" in arm
    assert "2 for M4×12 SH" in arm
    assert "No spare is kept for it" in arm


def test_broke_is_one_tap_and_leads_back_to_the_part(
    client: Client, odile: Person
) -> None:
    client.force_login(odile)
    answer = client.post("/components/T25/broke/", {"text": "Bent.", "client_id": "b1"})
    assert answer.headers["Location"] == "/pit/tuppence/#T25"
    assert LogEntry.objects.get(kind="broke").text == "Bent."
    assert "broke before" in client.get("/pit/tuppence/").text


def test_a_viewer_reads_and_logs_nothing(viewers_page: Client) -> None:
    assert viewers_page.get("/pit/").status_code == 200
    assert viewers_page.post("/components/T25/broke/").status_code == 403


def test_a_build_that_is_not_live_has_no_pit(page: Client) -> None:
    assert page.get("/pit/nobody/").status_code == 404
