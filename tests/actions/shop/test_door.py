from datetime import datetime, timedelta

import pytest

from fabshop.actions.shop import (
    make_api_token,
    make_sign_in_link,
    use_sign_in_link,
)
from fabshop.errors import BadInput, Clash, NotFound
from fabshop.records.shop import Person, SignInLink


def test_a_link_signs_in_once(owner: Person, now: datetime) -> None:
    token = make_sign_in_link(person=owner, now=now)
    assert use_sign_in_link(token=token, now=now) == owner
    with pytest.raises(NotFound, match="used already"):
        use_sign_in_link(token=token, now=now)


def test_only_the_hash_of_a_link_is_kept(owner: Person, now: datetime) -> None:
    token = make_sign_in_link(person=owner, now=now)
    assert token not in str(SignInLink.objects.values().get())


def test_a_link_grows_too_old(owner: Person, now: datetime) -> None:
    token = make_sign_in_link(person=owner, now=now, hours=2)
    with pytest.raises(NotFound, match="too old"):
        use_sign_in_link(token=token, now=now + timedelta(hours=2))
    assert use_sign_in_link(token=token, now=now + timedelta(minutes=119)) == owner


@pytest.mark.django_db
@pytest.mark.parametrize("token", ["", "no-such-link", "\ud800", "a" * 5000])
def test_a_link_that_was_never_made_opens_nothing(now: datetime, token: str) -> None:
    with pytest.raises(NotFound, match="not known here"):
        use_sign_in_link(token=token, now=now)


@pytest.mark.parametrize("hours", [0, -1, 24 * 31 + 1])
def test_a_link_lasts_a_sensible_time(owner: Person, now: datetime, hours: int) -> None:
    with pytest.raises(BadInput, match="a link lasts 1 to 744 hours"):
        make_sign_in_link(person=owner, now=now, hours=hours)


def test_no_link_for_who_no_longer_signs_in(owner: Person, now: datetime) -> None:
    owner.is_active = False
    with pytest.raises(Clash, match="Olive no longer signs in here"):
        make_sign_in_link(person=owner, now=now)


def test_the_token_of_a_program_stays_the_same(owner: Person, helper: Person) -> None:
    token = make_api_token(person=owner)
    assert make_api_token(person=owner) == token
    assert make_api_token(person=helper) != token
