"""`api_token NAME` prints one line that opens the API."""

from __future__ import annotations

from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from rest_framework.authtoken.models import Token

from fabshop.records.shop import Person


def test_one_line_is_printed_and_it_is_the_persons_token(helper: Person) -> None:
    out = StringIO()
    call_command("api_token", "Hal", stdout=out)
    [line] = out.getvalue().splitlines()
    assert Token.objects.get(key=line).user == helper


def test_a_stranger_gets_none(helper: Person) -> None:
    with pytest.raises(CommandError, match="Nobody here is called 'Tom'"):
        call_command("api_token", "Tom")
    assert Token.objects.count() == 0
