"""What all that is wanted would use up, against what there is."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.facts import Besides
from fabshop.reckoning.planning.way import FINAL, base_of
from fabshop.units import show_milli

Data = dict[str, Any]


def short_words(question: Data, answer: Data, besides: Besides) -> list[str]:
    """A sentence for each store that all final ways together would overdraw.

    Spares are told elsewhere, with the tasks that want the same piece.
    """
    wanted: dict[str, float] = {}
    used: dict[str, float] = {}
    done = {row["id"]: row["way"] for row in answer["activities"]}
    for one in question["activities"]:
        finals = [w for w in one["ways"] if base_of(w["id"]) == FINAL]
        for store, amount in (finals[0].get("takes", {}) if finals else {}).items():
            wanted[store] = wanted.get(store, 0) + amount
        for way in one["ways"]:
            if done.get(one["id"]) == way["id"]:
                for store, amount in way.get("takes", {}).items():
                    used[store] = used.get(store, 0) + amount
    found = []
    for store in besides.stores:
        want = round(1000 * wanted.get(store.id, 0))
        if store.is_spare or want <= store.amount_milli:
            continue
        unit = f" {store.unit}" if store.unit else ""
        short = show_milli(want - store.amount_milli)
        found.append(
            f"{store.title}: {show_milli(want)}{unit} wanted for everything final, "
            f"{show_milli(store.amount_milli)}{unit} here, short {short}{unit}. The "
            f"plan uses {show_milli(round(1000 * used.get(store.id, 0)))}{unit}."
        )
    return found
