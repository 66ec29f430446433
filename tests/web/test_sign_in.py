"""Signing in: a name and password, and what was typed while the session ran out."""

import re

import pytest
from django.test import Client
from django.urls import reverse

pytestmark = pytest.mark.django_db

RIGHT = "a long enough password"


def test_a_name_and_password_open_what_now(client, owner):
    answer = client.post(
        reverse("sign-in"), {"name": owner.name.lower(), "password": RIGHT}
    )
    assert answer.status_code == 302
    assert answer.url == "/"
    assert client.get("/").status_code == 200


def test_a_wrong_password_is_one_sentence_and_says_not_which_was_wrong(client, owner):
    answer = client.post(reverse("sign-in"), {"name": owner.name, "password": "no"})
    assert answer.status_code == 422
    assert "No one here has that name with that password" in answer.text
    assert f'value="{owner.name}"' in answer.text


def test_a_stranger_is_asked_to_sign_in_and_then_goes_where_they_were_going(
    client, owner
):
    asked = client.get("/?minutes=40")
    assert asked.status_code == 302
    assert asked.url.startswith("/sign-in/?next=")
    page = client.get(asked.url).text
    target = re.search(r'name="next" value="([^"]*)"', page)[1]
    answer = client.post(
        reverse("sign-in"), {"name": owner.name, "password": RIGHT, "next": target}
    )
    assert answer.url == "/?minutes=40"


def test_nobody_is_sent_to_another_site_after_signing_in(client, owner):
    answer = client.post(
        reverse("sign-in"),
        {"name": owner.name, "password": RIGHT, "next": "https://elsewhere.example/"},
    )
    assert answer.url == "/"


def test_row_61_what_was_typed_when_the_session_ran_out_is_offered_again(client, owner):
    page = client.post("/?x=1", {"text": "ground the left cope <again>"})
    assert page.status_code == 403
    assert "You were signed out while you wrote" in page.text
    carried = re.search(r'name="carried" value="([^"]*)"', page.text)[1]
    answer = client.post(
        reverse("sign-in"),
        {"name": owner.name, "password": RIGHT, "carried": carried},
    )
    assert answer.status_code == 200
    assert "What you wrote is here" in answer.text
    assert 'action="/?x=1"' in answer.text
    assert 'name="text" value="ground the left cope &lt;again&gt;"' in answer.text


def test_signing_out_shuts_the_page(client, owner):
    client.force_login(owner)
    client.post(reverse("sign-out"))
    assert client.get("/").status_code == 302


@pytest.fixture
def strict(owner):
    client = Client(enforce_csrf_checks=True)
    client.force_login(owner)
    return client


def test_row_61_a_form_that_went_stale_while_the_phone_slept_is_offered_filled(strict):
    answer = strict.post(
        "/log/note/",
        {"text": "argon at 18 bar", "csrfmiddlewaretoken": "old"},
        headers={"Origin": "http://testserver"},
    )
    assert answer.status_code == 403
    assert "What you wrote is here. Send it now?" in answer.text
    token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', answer.text)[1]
    sent = strict.post(
        "/log/note/", {"text": "argon at 18 bar", "csrfmiddlewaretoken": token}
    )
    assert sent.status_code == 302


@pytest.mark.parametrize(
    "origin", ["https://elsewhere.example", "http://testserver.example", "null", ""]
)
def test_a_form_of_another_site_is_not_offered(strict, origin):
    answer = strict.post("/log/note/", {"text": "x"}, headers={"Origin": origin})
    assert answer.status_code == 403
    assert "That form came from another site." in answer.text


def test_eight_wrong_passwords_lock_the_name_for_a_while(client, owner):
    for _ in range(8):
        client.post(reverse("sign-in"), {"name": owner.name, "password": "no"})
    answer = client.post(reverse("sign-in"), {"name": owner.name, "password": RIGHT})
    assert answer.status_code == 429
    assert "Wait a quarter of an hour" in answer.text
