"""What a change of the question may and may not do to the answer."""

from __future__ import annotations

import json

import pytest

from fabshop.reckoning.ask import reckon
from tests.reckoning.cutting.asked import small_case
from tests.reckoning.cutting.replay import replay


@pytest.mark.parametrize("seed", range(100, 140))
def test_more_stock_is_never_worse(seed: int) -> None:
    asked = small_case(seed)
    before = replay(asked, reckon("cutlist", asked))
    asked["stock"].append({"id": "more", "length": 55, "cost": 1, "count": None})
    after = replay(asked, reckon("cutlist", asked))
    assert after >= before


@pytest.mark.parametrize("seed", range(140, 170))
def test_other_names_change_nothing_but_the_names(seed: int) -> None:
    asked = small_case(seed)
    text = json.dumps(asked).replace('"p', '"z').replace('"zieces', '"pieces')
    told = json.dumps(reckon("cutlist", json.loads(text)))
    for number in range(5):
        told = told.replace(f'"z{number}"', f'"p{number}"')
    assert json.loads(told) == reckon("cutlist", asked)


@pytest.mark.parametrize("seed", range(170, 200))
def test_a_kerf_is_the_same_as_longer_pieces_and_longer_stock(seed: int) -> None:
    """With a kerf of k: pieces of l + k out of L + k, without one."""
    asked = {**small_case(seed), "kerf": 1.5}
    plain = json.loads(json.dumps({**asked, "kerf": 0}))
    for thing in plain["stock"] + plain["pieces"]:
        thing["length"] += 1.5
    cut, cost, *_ = replay(asked, reckon("cutlist", asked))
    assert replay(plain, reckon("cutlist", plain))[:2] == (cut, cost)


@pytest.mark.parametrize("seed", range(200, 220))
def test_another_order_of_the_lists_reaches_the_same(seed: int) -> None:
    asked = small_case(seed)
    turned = {
        **asked,
        "stock": asked["stock"][::-1],
        "pieces": asked["pieces"][::-1],
    }
    first, again = reckon("cutlist", asked), reckon("cutlist", turned)
    assert replay(asked, first) == replay(turned, again)
