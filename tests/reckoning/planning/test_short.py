"""Stores that all final ways together would overdraw, in words."""

from __future__ import annotations

from fabshop.reckoning.facts import Besides, StoreFact
from fabshop.reckoning.planning.short import short_words

RESIN = StoreFact(id="K01", title="Resin", amount_milli=410_000, unit="g")


def asked(*amounts: int) -> dict:
    return {
        "activities": [
            {
                "id": f"w{n}",
                "ways": [
                    {"id": "final", "minutes": 9, "takes": {"K01": amount, "SP1": 1}},
                    {"id": "plan-b", "minutes": 5},
                ],
            }
            for n, amount in enumerate(amounts)
        ]
    }


def answer(**ways: str) -> dict:
    return {"activities": [{"id": name, "way": way} for name, way in ways.items()]}


def test_short_says_how_much_and_what_the_plan_uses():
    (told,) = short_words(
        asked(95, 120, 210, 130),
        answer(w0="final", w1="plan-b"),
        Besides(stores=(RESIN,)),
    )
    assert told == (
        "Resin: 555 g wanted for everything final, 410 g here, short 145 g. "
        "The plan uses 95 g."
    )


def test_enough_and_spares_are_not_told():
    spare = StoreFact(id="SP1", title="Old pod", amount_milli=1000, is_spare=True)
    stores = Besides(stores=(RESIN, spare))
    assert short_words(asked(200, 210), answer(), stores) == []
