from datetime import datetime

import pytest
from rest_framework.authtoken.models import Token

from fabshop import words
from fabshop.actions.shop import (
    add_person,
    bring_back_person,
    make_api_token,
    make_sign_in_link,
    retire_person,
    set_password,
    use_sign_in_link,
)
from fabshop.errors import BadInput, Clash, NotAllowed, NotFound
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person


def test_the_owner_lets_a_helper_in(owner: Person, now: datetime) -> None:
    added = add_person(by=owner, name="Teodor", role="helper", now=now)
    assert (added.role, added.has_usable_password()) == (words.Role.HELPER, False)
    assert LogEntry.objects.get().text == "Teodor may sign in as helper."


def test_a_password_is_kept_hashed(owner: Person, now: datetime) -> None:
    added = add_person(
        by=owner, name="Teodor", role="viewer", password="four old spoons", now=now
    )
    assert added.check_password("four old spoons")
    assert "spoons" not in added.password


def test_names_are_told_apart_by_more_than_their_capitals(
    owner: Person, helper: Person, now: datetime
) -> None:
    with pytest.raises(Clash, match="There is a Hal here already") as refused:
        add_person(by=owner, name="HAL", role="helper", now=now)
    assert refused.value.field == "name"


def test_an_unknown_role_is_refused(owner: Person, now: datetime) -> None:
    with pytest.raises(BadInput, match="none of owner, helper, viewer"):
        add_person(by=owner, name="Teodor", role="boss", now=now)


def test_a_short_password_is_refused_and_nobody_is_added(
    owner: Person, now: datetime
) -> None:
    with pytest.raises(BadInput, match="Password: 4 characters; it needs at least 8"):
        add_person(by=owner, name="Teodor", role="helper", password="1234", now=now)
    assert not Person.objects.filter(name="Teodor").exists()


def test_a_helper_lets_nobody_in(helper: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        add_person(by=helper, name="Teodor", role="owner", now=now)


def test_everybody_sets_their_own_password(viewer: Person, now: datetime) -> None:
    # A viewer writes nothing in the shop, but their password is their own.
    set_password(by=viewer, person=viewer, password="four old spoons", now=now)
    viewer.refresh_from_db()
    assert viewer.check_password("four old spoons")


def test_nobody_but_the_owner_sets_anothers_password(
    owner: Person, helper: Person, now: datetime
) -> None:
    set_password(by=owner, person=helper, password="four old spoons", now=now)
    with pytest.raises(NotAllowed):
        set_password(by=helper, person=owner, password="four old spoons", now=now)


def test_who_is_retired_gets_in_by_no_door_and_stays_in_the_log(
    owner: Person, helper: Person, now: datetime
) -> None:
    link = make_sign_in_link(person=helper, now=now)
    make_api_token(person=helper)
    retired = retire_person(by=owner, person=helper, now=now)
    assert not retired.is_active
    assert not Token.objects.filter(user=helper).exists()
    with pytest.raises(NotFound):
        use_sign_in_link(token=link, now=now)
    with pytest.raises(Clash, match="no longer signs in"):
        set_password(by=owner, person=retired, password="four old spoons", now=now)
    assert Person.objects.filter(name="Hal").exists()


def test_retiring_twice_leaves_one_line(
    owner: Person, helper: Person, now: datetime
) -> None:
    retire_person(by=owner, person=helper, now=now)
    retire_person(by=owner, person=helper, now=now)
    assert LogEntry.objects.count() == 1


def test_the_only_owner_stays(owner: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed, match="Olive is the only owner"):
        retire_person(by=owner, person=owner, now=now)


def test_who_was_here_before_is_brought_back_not_added_again(
    owner: Person, helper: Person, now: datetime
) -> None:
    retired = retire_person(by=owner, person=helper, now=now)
    with pytest.raises(Clash, match="Hal was here before: bring them back"):
        add_person(by=owner, name="Hal", role="helper", now=now)
    assert bring_back_person(by=owner, person=retired, now=now).is_active
