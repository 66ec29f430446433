"""A phone keeps what was tapped until the shop has answered it as its own."""

from __future__ import annotations

import random

from fabshop.console.bench.phones import Phone
from fabshop.console.bench.start import free_port


def test_without_a_shop_everything_stays_kept_in_order() -> None:
    phone = Phone(free_port(), random.Random(1))
    for text in ("first", "second"):
        phone.tap(text)
    phone.send()
    assert [text for _, text in phone.kept] == ["first", "second"]
    assert (phone.tries, phone.taken) == (1, set())


def test_every_tap_has_an_id_of_its_own() -> None:
    phone = Phone(free_port(), random.Random(1))
    for _ in range(100):
        phone.tap("again")
    assert len({key for key, _ in phone.kept}) == 100
