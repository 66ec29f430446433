import pytest

from fabshop.actions.shop import require, the_shop
from fabshop.errors import NotAllowed
from fabshop.records.shop import Person, Shop


@pytest.mark.parametrize("what", ["write", "own"])
def test_the_owner_does_everything(owner: Person, what: str) -> None:
    require(owner, what)


def test_a_helper_writes_but_does_not_own(helper: Person) -> None:
    require(helper, "write")
    with pytest.raises(NotAllowed, match="Only the owner does that"):
        require(helper, "own")


def test_a_viewer_only_reads(viewer: Person) -> None:
    with pytest.raises(NotAllowed, match="You may look, but not write here"):
        require(viewer, "write")


@pytest.mark.parametrize("what", ["write", "own"])
def test_who_was_retired_does_nothing_more(owner: Person, what: str) -> None:
    owner.is_active = False
    with pytest.raises(NotAllowed):
        require(owner, what)


@pytest.mark.django_db
def test_before_it_is_set_up_there_is_no_shop() -> None:
    assert the_shop() is None


def test_there_is_one_shop(shop: Shop) -> None:
    assert the_shop() == shop
