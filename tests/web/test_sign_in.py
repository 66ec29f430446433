"""Signing in: a name and password, and what was typed while the session ran out."""

import re

import pytest
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


def test_what_was_typed_when_the_session_ran_out_is_offered_again(client, owner):
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
