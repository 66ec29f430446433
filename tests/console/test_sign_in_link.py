"""`sign_in_link NAME` prints one line that signs NAME in once."""

from __future__ import annotations

from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.test import Client

from fabshop.records.shop import Person


def printed(*argv: str) -> str:
    out = StringIO()
    call_command("sign_in_link", *argv, stdout=out)
    [line] = out.getvalue().splitlines()
    return line


def test_the_link_signs_in_once(client: Client, helper: Person) -> None:
    path = printed("Hal").removeprefix("http://127.0.0.1:8000")
    assert client.post(path).status_code == 302
    assert client.session["_auth_user_id"] == str(helper.pk)
    assert Client().post(path).status_code == 404


def test_it_may_begin_with_any_address(helper: Person) -> None:
    link = printed("Hal", "--base-url", "https://shop.example/")
    assert link.startswith("https://shop.example/sign-in/")


def test_a_stranger_gets_none(helper: Person) -> None:
    with pytest.raises(CommandError, match=r"There is: Hal\."):
        printed("Tom")
