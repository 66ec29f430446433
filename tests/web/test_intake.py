"""A table is tried on the page, told by row and column, and taken when accepted."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from fabshop.records.build import Component
from tests.factories import BuildFactory

pytestmark = pytest.mark.django_db

GOOD = "code;build;name\nT08;T;Roof plate\nT09;T;Scuttle cowl\n"
MIXED = "code,build,name,off_minutes\nT08,T,Roof,5\nT09,T,Cowl,soon\n"
URL = "/intake/components/"


@pytest.fixture
def tuppence(shop):
    return BuildFactory(slug="tuppence", letter="T")


def test_the_kinds_are_listed_in_the_order_to_take_them(client, owner):
    client.force_login(owner)
    text = client.get("/intake/").text
    assert text.index("Builds") < text.index("Components") < text.index("Orders")


def test_row_57_a_file_is_tried_and_then_taken(client, owner, tuppence):
    """Row 57: dry run first."""
    client.force_login(owner)
    file = SimpleUploadedFile("parts.csv", b"\xef\xbb\xbf" + GOOD.encode())
    tried = client.post(URL, {"file": file})
    assert tried.status_code == 200
    assert "All 2 rows are good. Nothing is written yet." in tried.text
    assert "semicolons" in tried.text
    assert not Component.objects.exists()
    taken = client.post(URL, {"table": GOOD, "do": "all"}, follow=True)
    assert "2 rows of components taken in." in taken.text
    assert Component.objects.count() == 2


def test_row_57_bad_rows_are_told_by_row_and_column(client, owner, tuppence):
    """Row 57: list by row and column; "take the good ones"."""
    client.force_login(owner)
    tried = client.post(URL, {"table": MIXED})
    assert "1 row is good, 1 is not." in tried.text
    assert "<td>3</td><td>off_minutes</td>" in tried.text and "“soon”" in tried.text
    assert "Take the 1, leave 1 out" in tried.text
    client.post(URL, {"table": MIXED, "do": "good"})
    assert Component.objects.get().code == "T08"


def test_taking_all_of_a_bad_table_is_refused(client, owner, tuppence):
    client.force_login(owner)
    assert client.post(URL, {"table": MIXED, "do": "all"}).status_code == 422
    assert not Component.objects.exists()


def test_a_second_tap_writes_nothing_twice(client, owner, tuppence):
    client.force_login(owner)
    client.post(URL, {"table": GOOD, "do": "all"})
    again = client.post(URL, {"table": GOOD, "do": "all"})
    assert again.status_code == 422
    assert Component.objects.count() == 2


def test_row_57_a_missing_column_keeps_the_table(client, owner, tuppence):
    """Row 57: missing column."""
    client.force_login(owner)
    answer = client.post(URL, {"table": "code,name\nT08,Roof plate\n"})
    assert answer.status_code == 422
    assert "The column build is missing" in answer.text
    assert "T08,Roof plate" in answer.text


def test_no_table_at_all_is_said(client, owner):
    client.force_login(owner)
    answer = client.post(URL, {"table": " "})
    assert answer.status_code == 422
    assert "choose a file, or paste its rows" in answer.text


def test_row_56_formulas_and_scripts_are_text(client, owner, tuppence):
    """Row 56: =CMD() and <script> in a table are shown and kept as text."""
    client.force_login(owner)
    table = "code,build,name\nT08,T,=CMD()\nT09,Z,<script>alert(1)</script>\n"
    answer = client.post(URL, {"table": table})
    assert "<script>alert" not in answer.text
    client.post(URL, {"table": table, "do": "good"})
    assert Component.objects.get().name == "=CMD()"


def test_an_unknown_table_is_not_found_and_a_helper_stays_out(client, owner, helper):
    client.force_login(owner)
    assert client.get("/intake/cats/").status_code == 404
    client.force_login(helper)
    assert client.get(URL).status_code == 403
