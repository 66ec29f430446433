"""Tables for a small shop, taken in by its owner."""

import pytest

from fabshop.actions.intake import take_table
from tests.factories import BuildFactory


@pytest.fixture
def take(owner, now):
    def taken(kind, text, accept="", by=owner):
        return take_table(
            by=by, kind=kind, content=text.encode(), now=now, accept=accept
        )

    return taken


@pytest.fixture
def tuppence(shop):
    return BuildFactory(slug="tuppence", letter="T")
